// Findings, worst first, with what the last change made better or worse.
export default {
  // adds: whether the page can add entries; elsewhere a step only says what to do. stale: work whose
  // findings are those of before the last change.
  props: { report: Object, busy: Object, troubles: Object, stale: Array, adds: Boolean },
  template: `
  <section class="findings" aria-label="Findings">
    <div class="findings-head">
      <h2>Findings</h2>
      <p v-if="!report.none" class="counts" role="status"><span v-for="c in report.counts" :key="c.state" :class="'count-' + c.state"><b aria-hidden="true">{{ c.sign }}</b> {{ c.count }} {{ c.word }}</span></p>
      <p v-for="(t, k) in busy" :key="k" class="busy" :data-work="k"><i aria-hidden="true"></i> {{ t }} … <button v-if="k === 'drills'" type="button" class="quiet" @click="$emit('stop', k)">stop</button></p>
      <p v-for="(t, k) in troubles" :key="k" class="trouble" role="alert"><b>{{ k === 'light' ? 'No light' : k === 'climate' ? 'No climate' : k === 'ground' ? 'Nothing of the ground' : k === 'life' ? 'Nothing of animals and plants' : k === 'plan' ? 'No plan of the build' : k === 'pack' ? 'No pack' : k }}:</b> {{ t }}</p>
    </div>
    <div v-if="report.changed.length" class="changed">
      <h3>What the last change did</h3>
      <ul><li v-for="(c, n) in report.changed" :key="n" :class="c.kind"><b>{{ c.word }}</b> {{ c.title }}: {{ c.was }} → {{ c.now }}</li></ul>
    </div>
    <p v-if="report.none" class="about">{{ report.none }}</p>
    <div v-for="g in report.groups" :key="g.about" class="finding-group">
      <h3>{{ g.heading }}</h3>
      <details v-for="f in g.items" :key="f.key" v-memo="[f.print, old(f), adds]" :class="['finding', 'is-' + f.state, { 'is-old': old(f) }]" :data-need="f.need" :data-site="f.site">
        <summary><b class="sign" aria-hidden="true">{{ f.sign }}</b><span class="word">{{ f.word }}</span>
          <span class="what">{{ f.title }}<template v-if="f.site">, {{ f.site }}</template></span>
          <span class="value">{{ f.value }}<template v-if="f.wanted">, {{ f.wanted }}</template><template v-if="old(f)"> (before the change)</template></span><span class="was" v-if="f.was">{{ f.was }}</span></summary>
        <dl>
          <template v-for="r in f.rows" :key="r[0]"><dt>{{ r[0] }}</dt><dd>{{ r[1] }}</dd></template>
        </dl>
        <p v-if="f.steps.length" class="steps-head">What usually helps:</p>
        <ul v-if="f.steps.length" class="steps" aria-label="What usually helps">
          <li v-for="(s, n) in f.steps" :key="n">{{ s.text }}
            <button v-if="s.add && adds" type="button" class="quiet" @click="open(s.add, 'add')">add {{ s.what }}</button>
            <button v-if="s.pick" type="button" class="quiet" @click="open(s.pick)">open {{ s.label }}</button></li></ul>
        <button v-if="f.cure" type="button" @click="$emit('cure', f.key)">{{ f.cure }}</button>
        <button v-if="f.pick" type="button" class="quiet" @click="$emit('pick', f.pick)">show in the scene</button>
      </details>
    </div>
    <p class="caution" v-if="report.caution">{{ report.caution }}</p>
    <p class="caution">{{ report.coverage }}</p>
  </section>`,
  methods: {
    old(f) { return !!this.stale && this.stale.includes(f.work); },
    // Where the form lies out of sight, as on a phone, it is brought into it.
    open(what, how = "pick") {
      this.$emit(how, what);
      setTimeout(() => {
        const form = document.querySelector(".form");
        const box = form?.getBoundingClientRect();
        if (box && (box.top > innerHeight - 80 || box.bottom < 80)) form.scrollIntoView({ block: "start" });
      }, 350);
    },
  },
};
