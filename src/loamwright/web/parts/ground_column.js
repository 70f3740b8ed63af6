// The ground: a column from the floor up, what to buy, and its water over weeks.
export default {
  props: { ground: Object },
  template: `
  <div>
    <h1>The ground</h1>
    <p v-if="ground.none" class="about">{{ ground.none }}</p>
    <template v-else>
    <p v-if="ground.busy" class="busy" role="status"><i aria-hidden="true"></i> {{ ground.busy }} …</p>
    <p v-if="ground.trouble" class="trouble" role="alert">{{ ground.trouble }}</p>
    <section class="panel" aria-label="Layers of the ground"><h2>{{ first ? first.title : 'Layers' }}</h2><p class="about">{{ ground.of }}</p>
      <div class="column">
        <svg :viewBox="'0 0 150 ' + H" role="img" :aria-label="'A column of ' + ground.layers.length + ' layers; the table beside it has the numbers'">
          <rect x="14" y="1" width="70" :height="H - 2" fill="none" stroke="currentColor" stroke-opacity=".35"/>
          <g v-for="(l, n) in ground.layers" :key="n">
            <rect x="15" width="68" :y="y(l.to)" :height="Math.max(y(l.from) - y(l.to), 1.2)" :fill="l.color"/>
            <text x="90" :y="names[n]" font-size="11" fill="currentColor">{{ l.name }}</text></g>
          <line x1="8" x2="90" :y1="y(ground.depth)" :y2="y(ground.depth)" stroke="currentColor" stroke-dasharray="3 2"/>
        </svg>
        <div v-if="first" class="wide-table" tabindex="0" role="region" aria-label="Table of layers"><table class="plain"><thead><tr><th v-for="(c, i) in first.columns" :key="i" scope="col" :class="{num: first.right.includes(i)}">{{ c }}</th></tr></thead>
          <tbody><tr v-for="(r, n) in first.rows" :key="n"><th scope="row">{{ r[0] }}</th><td v-for="(v, i) in r.slice(1)" :key="i" :class="{num: first.right.includes(i + 1)}">{{ v }}</td></tr></tbody></table>
          <p class="about">{{ first.note }}</p></div>
      </div>
    </section>
    <section v-if="ground.report.groups.length" class="panel" aria-label="Findings of the ground"><h2>Findings of the ground</h2>
      <div class="ground-found"><div v-for="g in ground.report.groups" :key="g.about"><h3>{{ g.heading }}</h3><details v-for="f in g.items" :key="f.key" :class="['finding', 'is-' + f.state]" :data-need="f.need">
        <summary><b class="sign" aria-hidden="true">{{ f.sign }}</b><span class="word">{{ f.word }}</span><span class="what">{{ f.title }}</span><span class="value">{{ f.value }}</span></summary>
        <dl><template v-for="l in f.rows" :key="l[0]"><dt>{{ l[0] }}</dt><dd>{{ l[1] }}</dd></template></dl>
        <ul v-if="f.steps.length" class="steps" aria-label="What to try"><li v-for="(s, i) in f.steps" :key="i">{{ s.text }} <a v-if="s.pick" :href="ground.habitat + '&pick=' + encodeURIComponent(s.pick)">open {{ s.label }}</a></li></ul></details></div></div></section>
    <section v-for="(c, n) in ground.charts" :key="'c' + n" class="panel drawn" tabindex="0" :aria-label="'Water by depth ' + (n + 1)"><img :src="c" :alt="'Water in the ground by depth over the weeks, ' + (n ? 'from summer' : 'from winter') + ' on; the tables below have the numbers'"></section>
    <div class="tables"><section v-for="(t, k) in rest" :key="'t' + k" class="panel" :aria-label="t.title"><h2>{{ t.title }}</h2>
      <div class="wide-table" tabindex="0" role="region" :aria-label="'Table: ' + t.title"><table class="plain"><thead v-if="t.columns.length"><tr><th v-for="(c, i) in t.columns" :key="i" scope="col" :class="{num: t.right.includes(i)}">{{ c }}</th></tr></thead>
        <tbody><tr v-for="(r, n) in t.rows" :key="n"><td v-for="(v, i) in r" :key="i" :class="{num: t.right.includes(i)}">{{ v }}</td></tr></tbody></table></div>
      <p v-if="t.note" class="about">{{ t.note }}</p></section></div>
    </template>
  </div>`,
  data() { return { H: 260 }; },
  computed: {
    first() { return this.ground.tables[0]; },
    rest() { return this.ground.tables.slice(1); },
    // The column is drawn a little higher than the ground, so that its surface is seen.
    scale() { return (this.H - 4) / Math.max(this.ground.depth * 1.18, 0.01); },
    names() {
      const out = this.ground.layers.map((l) => (this.y(l.from) + this.y(l.to)) / 2 + 4);
      for (let i = 1; i < out.length; i++) out[i] = Math.min(out[i], out[i - 1] - 13);
      return out;
    },
  },
  methods: { y(z) { return this.H - 2 - z * this.scale; } },
};
