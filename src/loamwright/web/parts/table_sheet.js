// Tables of a page's part, with what is said before them.
export default {
  props: { sheet: Object },
  template: `
  <div>
    <section v-if="(sheet.told && sheet.told.length) || sheet.legend" class="panel" :aria-label="sheet.heading"><h2 v-if="sheet.heading">{{ sheet.heading }}</h2>
      <p v-for="(t, n) in sheet.told" :key="n" class="told">{{ t }}</p>
      <ol v-if="sheet.steps" class="chain"><li v-for="(t, n) in sheet.steps" :key="n">{{ t }}</li></ol>
      <ul v-if="sheet.legend" class="signs"><li v-for="l in sheet.legend" :key="l[0]"><i :class="l[0]" aria-hidden="true"></i> {{ l[1] }}</li></ul></section>
    <div v-if="sheet.cards && sheet.cards.length" class="cards"><div class="card" v-for="c in sheet.cards" :key="c[0]"><small>{{ c[0] }}</small><b>{{ c[1] }}</b><small>{{ c[2] }}</small></div></div>
    <section v-for="(t, k) in sheet.tables" :key="k" class="panel" :aria-label="t.title"><h2>{{ t.title }}</h2>
      <div class="wide-table" tabindex="0" role="region" :aria-label="'Table: ' + t.title"><table class="plain"><thead v-if="t.columns.length"><tr><th v-for="(c, i) in t.columns" :key="i" scope="col" :class="{num: t.right.includes(i)}">{{ c }}</th></tr></thead>
        <tbody><tr v-for="(r, n) in t.rows" :key="n"><td v-for="(v, i) in r" :key="i" :class="{num: t.right.includes(i)}">{{ v }}</td></tr></tbody></table></div>
      <p v-if="t.note" class="about">{{ t.note }}</p></section>
  </div>`,
};
