// Curves by day through a year, with ranges, limits and what happens on a day. Lines differ by colour, dashes and name.
const L = 52, T = 18, B = 26;

export default {
  props: { charts: Array },
  template: `
  <div>
    <figure v-for="c in charts" :key="c.key" class="chart-box">
      <figcaption :id="'year-' + c.key">{{ c.title }}</figcaption>
      <svg class="chart" :viewBox="'0 0 ' + W + ' ' + H" role="img" :aria-labelledby="'year-' + c.key + ' year-sum-' + c.key" tabindex="0" :data-chart="c.key"
        @pointermove="aim($event, c)" @pointerleave="at = null" @keydown="key($event, c)">
        <g v-for="t in ticks(c)" :key="'t' + t"><line class="axis" :x1="L" :x2="W - R" :y1="y(c, t)" :y2="y(c, t)"/><text :x="L - 6" :y="y(c, t) + 4" text-anchor="end">{{ t.toLocaleString("en") }}</text></g>
        <g v-for="d in days(c)" :key="'d' + d"><line class="axis" :x1="x(c, d)" :x2="x(c, d)" :y1="H - B" :y2="H - B + 4"/><text :x="x(c, d)" :y="H - 8" text-anchor="middle">{{ d }}</text></g>
        <g v-for="(m, i) in c.marks" :key="'m' + i"><line class="happens" :x1="x(c, m.day)" :x2="x(c, m.day)" :y1="T" :y2="H - B"/><text v-if="told(c, i)" class="happens-name" :x="x(c, m.day) + 3" :y="T - 6">{{ m.words }}</text></g>
        <template v-for="l in c.lines" :key="'r' + l.name"><path v-if="l.low" :class="l.look" class="range" :d="area(c, l)"/></template>
        <g v-for="m in c.limits" :key="m.words"><line class="limit" :x1="L" :x2="W - R" :y1="y(c, m.value)" :y2="y(c, m.value)"/><text class="limit-name" :x="L + 4" :y="y(c, m.value) - 4">{{ m.words }}</text></g>
        <path v-for="l in c.lines" :key="l.name" class="curve" :class="[l.look, l.dash]" :d="path(c, l.values)"/>
        <text v-for="n in names(c)" :key="'w' + n.name" class="name" :class="[n.look, {tight: W < 560}]" :x="W - R + 6" :y="n.y">{{ n.name }}</text>
        <line v-if="at !== null" class="cursor" :x1="x(c, at)" :x2="x(c, at)" :y1="T" :y2="H - B"/>
      </svg>
      <p class="chart-told" aria-live="polite"><template v-if="at !== null">day {{ at }}: {{ said(c) }}</template><template v-else>Days after planting. {{ c.told }}</template></p>
      <p :id="'year-sum-' + c.key" hidden>{{ summary(c) }}</p>
    </figure>
  </div>`,
  data() { return { at: null, W: 860, H: 220, L, T, B }; },
  mounted() {
    this.watch = new ResizeObserver(() => { const w = this.$el.clientWidth; if (w) this.W = Math.min(Math.max(w, 290), 1150); });
    this.watch.observe(this.$el);
  },
  unmounted() { this.watch.disconnect(); },
  computed: { R() { return this.W < 560 ? 136 : 150; } },
  methods: {
    last(c) { return (c.lines[0].values.length - 1) * c.every; },
    x(c, day) { return L + (day / this.last(c)) * (this.W - L - this.R); },
    y(c, v) {
      const [a, b] = c.log ? [0, Math.log10(c.range[1])] : c.range;
      const w = c.log ? Math.log10(Math.max(v, 1)) : Math.min(Math.max(v, a), b);
      return T + (1 - (w - a) / (b - a)) * (this.H - T - B);
    },
    ticks(c) {
      if (c.log) { const out = []; for (let v = 1; v <= c.range[1]; v *= 10) out.push(v); return out; }
      const [a, b] = c.range, raw = (b - a) / 4, size = 10 ** Math.floor(Math.log10(raw)), step = [1, 2, 5, 10].map((s) => s * size).find((s) => s >= raw);
      const out = [];
      for (let v = a; v <= b + 1e-9; v += step) out.push(+v.toFixed(6));
      return out;
    },
    days(c) { const out = []; for (let d = 0; d <= this.last(c); d += this.W < 560 ? 180 : 60) out.push(d); return out; },
    path(c, values) { return values.map((v, n) => `${n ? "L" : "M"}${this.x(c, n * c.every).toFixed(1)} ${this.y(c, v).toFixed(1)}`).join(""); },
    area(c, l) {
      const back = l.low.map((v, n) => `L${this.x(c, n * c.every).toFixed(1)} ${this.y(c, v).toFixed(1)}`).reverse().join("");
      return this.path(c, l.high) + back + "Z";
    },
    told(c, i) { return i === 0 || c.marks[i].words !== c.marks[i - 1].words; },
    names(c) {
      const rows = c.lines.map((l) => ({ name: l.name, look: l.look, y: this.y(c, l.values.at(-1)) + 4 })).sort((p, q) => p.y - q.y);
      for (let i = 1; i < rows.length; i++) rows[i].y = Math.max(rows[i].y, rows[i - 1].y + 14);
      return rows;
    },
    aim(e, c) {
      const box = e.currentTarget.getBoundingClientRect(), px = ((e.clientX - box.left) / box.width) * this.W;
      const d = ((px - L) / (this.W - L - this.R)) * this.last(c);
      this.at = d >= 0 && d <= this.last(c) ? Math.round(d / c.every) * c.every : null;
    },
    key(e, c) {
      const by = { ArrowLeft: -2, ArrowRight: 2, Home: -1e6, End: 1e6 }[e.key];
      if (e.key === "Escape") this.at = null;
      if (by === undefined) return;
      e.preventDefault();
      this.at = Math.min(Math.max((this.at ?? 0) + by * c.every, 0), this.last(c));
    },
    fmt(c, v) { return v === undefined ? "–" : `${v.toFixed(c.digits)}${c.unit ? " " + c.unit : ""}`; },
    said(c) { return c.lines.map((l) => `${l.name} ${this.fmt(c, l.values[Math.round(this.at / c.every)])}`).join(" · "); },
    summary(c) { return c.lines.map((l) => `${l.name}: from ${this.fmt(c, l.values[0])} to ${this.fmt(c, l.values.at(-1))} a year on`).join("; ") + ". " + c.limits.map((m) => `${m.words}: ${this.fmt(c, m.value)}`).join("; "); },
  },
};
