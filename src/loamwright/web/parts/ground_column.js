// The ground as a column from the floor up, and what each layer holds.
export default {
  props: { column: Object },
  template: `
  <div>
    <h1>The ground</h1>
    <p v-if="column.none" class="about">{{ column.none }}</p>
    <section v-else class="panel" aria-label="Layers of the ground"><h2>Layers, {{ column.of }}</h2>
      <div class="column">
        <svg :viewBox="'0 0 150 ' + H" role="img" :aria-label="'A column of ' + column.layers.length + ' layers; the table beside it has the numbers'">
          <rect x="14" y="1" width="70" :height="H - 2" fill="none" stroke="currentColor" stroke-opacity=".35"/>
          <g v-for="(l, n) in column.layers" :key="n">
            <rect x="15" width="68" :y="y(l.to)" :height="Math.max(y(l.from) - y(l.to), 1.2)" :fill="l.color"/>
            <text x="90" :y="names[n]" font-size="11" fill="currentColor">{{ l.name }}</text></g>
          <line x1="8" x2="90" :y1="y(column.depth)" :y2="y(column.depth)" stroke="currentColor" stroke-dasharray="3 2"/>
        </svg>
        <div class="wide-table" tabindex="0" aria-label="Table of layers"><table class="plain"><thead><tr><th v-for="c in column.columns" :key="c" scope="col">{{ c }}</th></tr></thead>
          <tbody><tr v-for="(r, n) in column.rows" :key="n"><th scope="row">{{ r[0] }}</th><td v-for="(v, i) in r.slice(1)" :key="i">{{ v }}</td></tr></tbody>
          <tfoot><tr><th scope="row">{{ column.sum[0] }}</th><td v-for="(v, i) in column.sum.slice(1)" :key="i"><b>{{ v }}</b></td></tr></tfoot></table>
          <p class="about">{{ column.note }}</p></div>
      </div>
    </section>
  </div>`,
  data() { return { H: 260 }; },
  computed: {
    // The column is drawn a little higher than the ground, so that its surface is seen.
    scale() { return (this.H - 4) / Math.max(this.column.depth * 1.18, 0.01); },
    names() {
      const out = this.column.layers.map((l) => (this.y(l.from) + this.y(l.to)) / 2 + 4);
      for (let i = 1; i < out.length; i++) out[i] = Math.min(out[i], out[i - 1] - 13);
      return out;
    },
  },
  methods: { y(z) { return this.H - 2 - z * this.scale; } },
};
