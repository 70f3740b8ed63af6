// The pack: date and paper, made in the background, then taken away as one file.
const today = () => { const n = new Date(); return new Date(n.getTime() - 60000 * n.getTimezoneOffset()).toISOString().slice(0, 10); };
export default {
  props: { pack: Object },
  template: `
  <section class="panel" aria-label="The pack"><h2>The pack</h2>
    <p class="about">Everything the build needs in one file: a PDF of all pages with cover, drawings to scale, findings with their sources, lists, sheets, care guide and cautions; beside it lists (CSV), the saw's drawings (DXF), the calendar (ICS), drawings (SVG) and the model (glTF).</p>
    <form class="choose" @submit.prevent="$emit('make', {date, paper})">
      <label>date on it <input type="date" v-model="date" min="1980-01-01" data-control="pack-date" required></label>
      <label>paper <select v-model="paper" data-control="pack-paper"><option value="a4">A4</option><option value="letter">Letter</option></select></label>
      <button type="submit" class="main" :disabled="!pack.ready || !!pack.busy">make the pack</button>
      <button v-if="pack.busy" type="button" @click="$emit('stop')">stop</button></form>
    <p v-if="pack.busy" class="busy" role="status"><i aria-hidden="true"></i> {{ pack.busy }} …</p>
    <p v-else-if="!pack.ready" class="about">{{ pack.waiting }}</p>
    <p v-if="pack.trouble" class="trouble" role="alert">{{ pack.trouble }}</p>
    <p v-if="pack.told" role="status"><a class="take" :href="pack.href" download data-take="pack">take the pack of {{ pack.told }}</a> <span v-if="pack.old" class="incomplete">Of before the last change: make it anew for what stands here now.</span></p>
  </section>`,
  data() { return { date: today(), paper: this.pack.paper }; },
};
