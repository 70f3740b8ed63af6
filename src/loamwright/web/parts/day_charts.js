// Curves by the hour, with what is wanted as bands. Lines are told apart by colour, dashes and name.
const L = 46, T = 10, B = 24;

export default {
  props: { charts: Array, night: Array, old: Boolean, hour: Number },
  template: `
  <div :class="{old}">
    <figure v-for="c in charts" :key="c.key" class="chart-box">
      <figcaption :id="'cap-' + c.key">{{ c.title }}</figcaption>
      <svg class="chart" :viewBox="'0 0 ' + W + ' ' + high(c)" role="img" :aria-labelledby="'cap-' + c.key + ' sum-' + c.key" tabindex="0"
        @pointermove="aim($event)" @pointerleave="at = null" @keydown="key($event)">
        <rect v-for="(n, i) in night" :key="'n' + i" class="night" :x="x(n[0])" :width="x(n[1]) - x(n[0])" :y="T" :height="high(c) - T - B"/>
        <g v-for="t in ticks(c)" :key="'t' + t"><line class="axis" :x1="L" :x2="W - R" :y1="y(c, t)" :y2="y(c, t)"/><text :x="L - 6" :y="y(c, t) + 4" text-anchor="end">{{ t }}</text></g>
        <g v-for="h in hoursShown" :key="'h' + h"><line class="axis" :x1="x(h)" :x2="x(h)" :y1="high(c) - B" :y2="high(c) - B + 4"/><text :x="x(h)" :y="high(c) - 6" text-anchor="middle">{{ String(h).padStart(2, "0") }}</text></g>
        <g v-for="(b, i) in c.bands" :key="'b' + i" :class="b.look">
          <g v-for="(s, j) in b.spans" :key="j">
            <rect class="band" fill="currentColor" stroke="none" :x="x(s[0])" :width="Math.max(x(s[1]) - x(s[0]), 0)" :y="y(c, top(c, b))" :height="Math.max(y(c, bottom(c, b)) - y(c, top(c, b)), 0)"/>
            <line v-for="v in [b.low, b.high].filter(v => v !== null && v >= range(c)[0] && v <= range(c)[1])" :key="v" class="edge" :x1="x(s[0])" :x2="x(s[1])" :y1="y(c, v)" :y2="y(c, v)"/></g></g>
        <path v-for="l in c.lines" :key="l.name" class="curve" :class="[l.look, l.dash]" :d="path(c, l.values)"/>
        <text v-for="n in names(c)" :key="'w' + n.name" class="name" :class="n.look" stroke="none" style="fill: currentColor" :x="W - R + 8" :y="n.y">{{ n.name }}</text>
        <line v-if="mark !== null" class="cursor" :x1="x(mark)" :x2="x(mark)" :y1="T" :y2="high(c) - B"/>
      </svg>
      <p class="chart-told" aria-live="polite"><template v-if="mark !== null">{{ clock(mark) }}: {{ said(c) }}</template><template v-else>{{ c.bandwords }}</template></p>
      <p :id="'sum-' + c.key" hidden>{{ summary(c) }}</p>
    </figure>
  </div>`,
  data() { return { at: null, W: 860, L, T, B }; },
  mounted() {
    // As wide as there is room, so that letters keep their size on a phone.
    this.watch = new ResizeObserver(() => { const w = this.$el.clientWidth; if (w) this.W = Math.min(Math.max(w, 300), 1150); });
    this.watch.observe(this.$el);
  },
  unmounted() { this.watch.disconnect(); },
  computed: { R() { return this.W < 560 ? 84 : 132; }, hoursShown() { return this.W < 560 ? [0, 6, 12, 18, 24] : [0, 3, 6, 9, 12, 15, 18, 21, 24]; }, mark() { return this.at ?? (this.hour >= 0 ? this.hour : null); } },
  methods: {
    high(c) { return c.high || 230; },
    range(c) { return c.range; },
    x(h) { return L + (h / 24) * (this.W - L - this.R); },
    y(c, v) { const [a, b] = c.range; return T + (1 - (v - a) / (b - a)) * (this.high(c) - T - B); },
    top(c, b) { return Math.min(b.high ?? c.range[1], c.range[1]); },
    bottom(c, b) { return Math.max(b.low ?? c.range[0], c.range[0]); },
    ticks(c) {
      const [a, b] = c.range, raw = (b - a) / 5, size = 10 ** Math.floor(Math.log10(raw)), step = [1, 2, 5, 10].map((s) => s * size).find((s) => s >= raw);
      const out = [];
      for (let v = Math.ceil(a / step) * step; v <= b + 1e-9; v += step) out.push(+v.toFixed(6));
      return out;
    },
    path(c, values) {
      let d = "", pen = false;
      values.forEach((v, n) => {
        if (v === null) { pen = false; return; }
        d += `${pen ? "L" : "M"}${this.x((n / (values.length - 1)) * 24).toFixed(1)} ${this.y(c, Math.min(Math.max(v, c.range[0]), c.range[1])).toFixed(1)}`;
        pen = true;
      });
      return d;
    },
    names(c) {
      const rows = c.lines.map((l) => ({ name: l.name, look: l.look, y: this.y(c, l.values.filter((v) => v !== null).at(-1) ?? c.range[0]) + 4 })).sort((a, b) => a.y - b.y);
      for (let i = 1; i < rows.length; i++) rows[i].y = Math.max(rows[i].y, rows[i - 1].y + 13);
      const over = rows.length ? rows.at(-1).y - (this.high(c) - B) : 0;
      if (over > 0) { for (let i = rows.length - 1; i >= 0; i--) { rows[i].y = Math.min(rows[i].y, this.high(c) - B - (rows.length - 1 - i) * 13); } }
      return rows;
    },
    aim(e) {
      const box = e.currentTarget.getBoundingClientRect(), px = ((e.clientX - box.left) / box.width) * this.W;
      const h = ((px - L) / (this.W - L - this.R)) * 24;
      this.at = h >= 0 && h <= 24 ? Math.round(h * 6) / 6 : null;
    },
    key(e) {
      const by = { ArrowLeft: -0.5, ArrowRight: 0.5, Home: -24, End: 24 }[e.key];
      if (e.key === "Escape") this.at = null;
      if (by === undefined) return;
      e.preventDefault();
      this.at = Math.min(Math.max((this.at ?? 12) + by, 0), 24);
    },
    clock(h) { return `${String(Math.floor(h + 1e-6) % 24).padStart(2, "0")}:${String(Math.round((h % 1) * 60) % 60).padStart(2, "0")}`; },
    value(l, h) { return l.values[Math.round((h / 24) * (l.values.length - 1))]; },
    fmt(c, v) { return v === null || v === undefined ? "–" : v.toFixed(c.digits) + " " + c.unit; },
    said(c) { return c.lines.map((l) => `${l.name} ${this.fmt(c, this.value(l, this.mark))}`).join(" · "); },
    summary(c) {
      return c.lines.map((l) => { const v = l.values.filter((x) => x !== null); return v.length ? `${l.name}: from ${this.fmt(c, Math.min(...v))} to ${this.fmt(c, Math.max(...v))}` : ""; }).join("; ") + ". " + c.bandwords;
    },
  },
};
