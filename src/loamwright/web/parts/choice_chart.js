// What animals can choose from: each place by the warmth a body takes there and the UV index, hour by hour.
const L = 44, R = 14, T = 14, B = 40;
const MARKS = {
  basking: "M0 -8L7.5 6H-7.5Z", perch: "M-6.5 0A6.5 6.5 0 1 0 6.5 0A6.5 6.5 0 1 0 -6.5 0Z", hide: "M-6 -6H6V6H-6Z",
  retreat: "M-6 -6H6V6H-6Z", laying: "M0 -8L8 0L0 8L-8 0Z",
};
const WORDS = { basking: "triangle: basking", perch: "circle: perch", hide: "square: hide, retreat", laying: "diamond: laying" };

export default {
  props: { chart: Object },
  template: `
  <section class="panel choice" aria-label="Choice chart">
    <h2>What {{ chart.species }} can choose from</h2>
    <p v-if="chart.why" class="about">{{ chart.why }}</p>
    <template v-else>
    <div class="choose"><span role="group" aria-label="Season"><button v-for="s in chart.seasons" :key="s[0]" type="button" :aria-pressed="s[0] === chart.season" @click="$emit('ask', {season: s[0]})">{{ s[1] }}</button></span>
      <label class="slide hour">hour <input type="range" min="0" max="23" step="1" v-model.number="hour" data-control="choice-hour" :aria-valuetext="clock"><output>{{ clock }}</output></label>
      <span class="about">{{ chart.day[hour] ? "by day" : "at night" }}</span></div>
    <p v-if="!drawn" class="about">Which warmth a body of this species takes at a place is not known, so nothing is drawn; the table has the rest.</p>
    <svg v-else class="chart" :viewBox="'0 0 ' + W + ' ' + H" role="img" aria-label="Places by warmth and UV index; the table below has the same numbers" :data-hour="hour">
      <defs><pattern id="choice-warm" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" class="hatch warm"/></pattern>
        <pattern id="choice-uv" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V7" class="hatch uv"/></pattern></defs>
      <g v-if="warm"><rect class="zone" fill="url(#choice-warm)" :x="x(warm[0])" :width="x(warm[1]) - x(warm[0])" :y="T" :height="H - T - B"/>
        <line v-for="v in chart.body.filter((v) => v !== null)" :key="v" class="warm-edge" :x1="x(v)" :x2="x(v)" :y1="T" :y2="H - B"/>
        <text class="zone-name" :x="x(warm[0]) + 4" :y="T + 12">preferred warmth</text></g>
      <g v-if="uv"><rect class="zone" fill="url(#choice-uv)" :x="L" :width="W - L - R" :y="y(uv[1])" :height="y(uv[0]) - y(uv[1])"/>
        <line v-for="v in chart.uvi.filter((v) => v !== null)" :key="v" class="uv-edge" :x1="L" :x2="W - R" :y1="y(v)" :y2="y(v)"/>
        <text class="zone-name" :x="W - R - 4" :y="y(uv[1]) + 13" text-anchor="end">UV index sought</text></g>
      <g v-for="t in xs" :key="'x' + t"><line class="axis" :x1="x(t)" :x2="x(t)" :y1="H - B" :y2="H - B + 4"/><text :x="x(t)" :y="H - B + 17" text-anchor="middle">{{ t }}</text></g>
      <g v-for="t in ys" :key="'y' + t"><line class="axis" :x1="L" :x2="W - R" :y1="y(t)" :y2="y(t)"/><text :x="L - 6" :y="y(t) + 4" text-anchor="end">{{ t }}</text></g>
      <text :x="(L + W - R) / 2" :y="H - 6" text-anchor="middle">warmth a body takes [{{ chart.unit }}]</text>
      <text :x="-(T + H - B) / 2" y="12" text-anchor="middle" transform="rotate(-90)">UV index</text>
      <g v-for="s in chart.sites" :key="'t' + s.name"><circle v-for="h in hours" :key="h" class="trail" :cx="x(s.warm[h])" :cy="y(s.uvi[h])" r="1.7"/></g>
      <g v-for="(s, n) in spots" :key="s.name"><line class="leader" :x1="s.x" :y1="s.y" :x2="s.nx" :y2="s.ny"/></g>
      <g v-for="s in spots" :key="'m' + s.name"><path class="spot" :class="'is-' + s.look" :d="mark(s.role)" :transform="'translate(' + s.x + ' ' + s.y + ')'" :data-place="s.name"><title>{{ s.name }}</title></path>
        <text class="spot-name" :x="s.tx" :y="s.ty">{{ s.short }}</text></g>
    </svg>
    <p class="about">{{ shapes }}. Full mark: in every band that is known; open: outside of one. Dots: the other hours of the day.</p>
    <p v-for="b in chart.bands" :key="b" class="about">{{ b }}</p>
    <div class="wide-table" tabindex="0" role="region" aria-label="Table of the choice"><table class="plain" data-table="choice">
      <caption>The choice at {{ clock }}, {{ seasonName }}</caption>
      <thead><tr><th scope="col">place</th><th scope="col">role</th><th scope="col" class="num">UV index</th><th scope="col">its band</th><th scope="col" class="num">body, {{ chart.unit }}</th><th scope="col">its band</th><th scope="col" class="num">humidity, %</th></tr></thead>
      <tbody><tr v-for="s in chart.sites" :key="s.name"><th scope="row">{{ s.name }}</th><td>{{ s.role }}</td><td class="num">{{ s.uvi[hour] }}</td><td>{{ held(s.uvi[hour], chart.uvi) }}</td>
        <td class="num">{{ s.warm ? s.warm[hour] : "not known" }}</td><td>{{ s.warm ? held(s.warm[hour], chart.body) : "–" }}</td><td class="num">{{ s.damp[hour] }}</td></tr></tbody></table></div>
    </template>
  </section>`,
  data() { return { hour: 12, W: 860, L, R, T, B }; },
  mounted() {
    this.watch = new ResizeObserver(() => { const w = this.$el.clientWidth - 34; if (w > 0) this.W = Math.min(Math.max(w, 290), 1000); });
    this.watch.observe(this.$el);
  },
  unmounted() { this.watch.disconnect(); },
  computed: {
    H() { return this.W < 560 ? 330 : 370; },
    clock() { return `${String(this.hour).padStart(2, "0")}:00`; },
    seasonName() { return (this.chart.seasons.find((s) => s[0] === this.chart.season) || ["", ""])[1]; },
    drawn() { return this.chart.sites.length > 0 && this.chart.sites.every((s) => s.warm); },
    hours() { return this.chart.day.map((d, h) => (d && h !== this.hour ? h : -1)).filter((h) => h >= 0); },
    warm() { return this.ends(this.chart.body, this.chart.range.warm); },
    uv() { return this.ends(this.chart.uvi, this.chart.range.uvi); },
    xs() { return this.steps(this.chart.range.warm, this.W < 560 ? 4 : 8); },
    ys() { return this.steps(this.chart.range.uvi, 5); },
    shapes() { return Object.keys(WORDS).filter((r) => this.chart.sites.some((s) => s.role === r || (r === "hide" && s.role === "retreat"))).map((r) => WORDS[r]).join("; "); },
    spots() {
      // Each name goes where it lies on no mark and on no other name; else it is left to the table.
      const out = this.chart.sites.map((s) => {
        const held = [this.held(s.uvi[this.hour], this.chart.uvi), this.held(s.warm[this.hour], this.chart.body)];
        return { ...s, x: this.x(s.warm[this.hour]), y: this.y(s.uvi[this.hour]), look: held.some((h) => /above|below/.test(h)) ? "out" : "in" };
      });
      const taken = out.map((s) => [s.x - 9, s.y - 9, s.x + 9, s.y + 9]);
      for (const s of out) {
        const wide = 6.6 * s.short.length + 4;
        let best = null;
        for (const far of [12, 22, 34, 48, 64]) {
          for (const [dx, dy] of [[1, 0], [-1, 0], [0.6, -1], [0.6, 1], [-0.6, -1], [-0.6, 1], [0, -1], [0, 1]]) {
            const ax = s.x + dx * far, ay = s.y + dy * far;
            const left = dx > 0 ? ax : dx < 0 ? ax - wide : ax - wide / 2;
            const box = [left, ay - 8, left + wide, ay + 6];
            if (box[0] < L || box[2] > this.W - R || box[1] < 2 || box[3] > this.H - B) continue;
            if (taken.some((t) => box[0] < t[2] && box[2] > t[0] && box[1] < t[3] && box[3] > t[1])) continue;
            best = { box, ax, ay };
            break;
          }
          if (best) break;
        }
        if (best) {
          taken.push(best.box);
          Object.assign(s, { tx: best.box[0] + 2, ty: best.ay + 4, nx: Math.min(Math.max(s.x, best.box[0]), best.box[2]), ny: Math.min(Math.max(s.y, best.box[1]), best.box[3]) });
        } else Object.assign(s, { short: "", tx: s.x, ty: s.y, nx: s.x, ny: s.y });
      }
      return out;
    },
  },
  methods: {
    mark(role) { return MARKS[role] || MARKS.perch; },
    ends(band, range) { return band[0] === null && band[1] === null ? null : [band[0] ?? range[0], band[1] ?? range[1]]; },
    x(v) { const [a, b] = this.chart.range.warm; return L + ((v - a) / (b - a)) * (this.W - L - R); },
    y(v) { const [a, b] = this.chart.range.uvi; return T + (1 - (v - a) / (b - a)) * (this.H - T - B); },
    steps([a, b], count) {
      const raw = (b - a) / count, size = 10 ** Math.floor(Math.log10(raw)), step = [1, 2, 5, 10].map((s) => s * size).find((s) => s >= raw);
      const out = [];
      for (let v = Math.ceil(a / step) * step; v <= b + 1e-9; v += step) out.push(+v.toFixed(6));
      return out;
    },
    held(v, [low, high]) {
      if (low === null && high === null) return "– not known";
      if (low !== null && v < low) return "▼ below";
      if (high !== null && v > high) return "▲ above";
      return "✓ inside";
    },
  },
};
