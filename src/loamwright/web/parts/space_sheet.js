// Room by published standards: each figure asked, beside what there is, as a bar with its word.
export default {
  props: { standards: Array, none: String },
  template: `
  <section class="panel" aria-label="Room by published standards"><h2>Room by published standards</h2>
    <p v-if="none" class="about">{{ none }}</p>
    <div v-for="s in standards" :key="s.title" class="standard"><h3>{{ s.title }}</h3>
      <div class="wide-table" tabindex="0" role="region" :aria-label="'Figures: ' + s.title"><table class="plain"><thead><tr><th scope="col">group</th><th scope="col">of</th><th scope="col" class="num">asks</th><th scope="col" class="num">there is</th><th scope="col" class="bar-head">the line is what is asked</th><th scope="col">state</th></tr></thead>
        <tbody><tr v-for="(f, n) in s.figures" :key="n"><td>{{ f.when }}</td><th scope="row">{{ f.what }}</th><td class="num">{{ f.asks }}</td><td class="num">{{ f.has }}</td>
          <td><span v-if="f.share !== null" class="share" aria-hidden="true"><i :style="{width: 100 * f.share + '%'}" :class="'is-' + f.state"></i></span></td>
          <td :class="['state-cell', 'is-' + f.state]"><b class="sign" aria-hidden="true">{{ f.sign }}</b> <span class="word">{{ f.word }}</span></td></tr></tbody></table></div></div>
  </section>`,
};
