// The start page: go on with a file, look at an example, or answer a few questions.
export default {
  props: { start: Object, problems: Object, busy: String },
  template: `
  <div class="start">
    <section class="start-new" aria-label="A new habitat">
      <h1>A new habitat</h1>
      <p class="lead">Four questions give a first design that computes: ground, branches, plants and lamps placed for those who live in it. Then change what you like.</p>
      <form novalidate @submit.prevent="make">
        <div class="field" :class="{wrong: problems.name}"><label for="n-name">What is it called?</label>
          <input id="n-name" v-model="wish.name" type="text" maxlength="80" autocomplete="off" placeholder="Window corner">
          <p v-for="m in problems.name" class="said" role="alert">✗ {{ m }}</p></div>
        <fieldset><legend>Who will live in it?</legend>
          <div v-for="(a, n) in wish.animals" :key="n" class="resident" :class="{wrong: problems['animals[' + n + ']']}">
            <label class="wide">animal <select v-model="a.species" :data-resident="n"><option value="">choose …</option><option v-for="o in start.animals" :key="o[0]" :value="o[0]">{{ o[1] }}</option></select></label>
            <label>males <input type="number" min="0" max="99" v-model.number="a.males"></label>
            <label>females <input type="number" min="0" max="99" v-model.number="a.females"></label>
            <label>young <input type="number" min="0" max="99" v-model.number="a.young"></label>
            <button v-if="n" type="button" class="quiet" @click="wish.animals.splice(n, 1)">remove</button>
            <p v-for="m in problems['animals[' + n + ']']" class="said" role="alert">✗ {{ m }}</p>
          </div>
          <p v-for="m in problems.animals" class="said" role="alert">✗ {{ m }}</p>
          <button type="button" class="quiet" @click="wish.animals.push(resident())">+ another species</button>
        </fieldset>
        <fieldset><legend>How large is it inside? <small>leave empty for a size that fits the first animal</small></legend>
          <div class="three"><label v-for="(w, n) in ['width', 'depth', 'height']" :key="w" :class="{wrong: problems['size[' + n + ']']}">{{ w }}
            <input type="text" v-model="wish.size[n]" :placeholder="start.likes.size[n]" :data-size="w" autocomplete="off"></label></div>
          <template v-for="n in [0, 1, 2]" :key="n"><p v-for="m in problems['size[' + n + ']']" class="said" role="alert">✗ {{ ['width','depth','height'][n] }}: {{ m }}</p></template>
        </fieldset>
        <details class="room" open><summary>What room does it stand in? <small>what is left empty is made to suit the first animal: put in your own, most depends on it</small></summary>
          <div v-for="s in ['winter', 'summer']" :key="s" class="three"><b>{{ s }}</b>
            <label v-for="(k, n) in ['day', 'night', 'humidity']" :key="k" :class="{wrong: problems['room.' + s + '.' + k]}">{{ k }} <input type="text" v-model="wish[s][k]" :placeholder="start.likes[s][n]" :title="'such as ' + start.likes[s][n]" autocomplete="off"></label></div>
          <template v-for="(list, key) in problems" :key="key"><template v-if="key.startsWith('room') || key === 'altitude'"><p v-for="m in list" class="said" role="alert">✗ {{ key.replace('room.', '').replace('.', ' ') }}: {{ m }}</p></template></template>
        </details>
        <button class="main large" :disabled="!!busy">{{ busy ? busy + ' …' : 'make it' }}</button>
      </form>
    </section>
    <div class="start-side">
      <section v-if="start.recent.length" aria-label="Opened lately"><h2>Opened lately</h2><ul class="files">
        <li v-for="f in start.recent" :key="f.href"><a :href="f.href"><b>{{ f.title }}</b><small>{{ f.name }}</small></a></li></ul></section>
      <section v-if="start.files.length" aria-label="Files here"><h2>Files here</h2><ul class="files">
        <li v-for="f in start.files" :key="f.href"><a :href="f.href"><b>{{ f.title }}</b><small>{{ f.name }}</small></a></li></ul></section>
      <section aria-label="Examples"><h2>Examples</h2><ul class="files">
        <li v-for="e in start.examples" :key="e.key"><button type="button" @click="$emit('example', e.key)"><b>{{ e.title }}</b><small>{{ e.about }}</small></button></li></ul></section>
      <section aria-label="Bring a file"><h2>Bring a file</h2>
        <form action="/put" method="post" enctype="multipart/form-data" class="bring">
          <label for="bring">A habitat file (.yaml), or a file it names: a scanned piece, a lamp's measurements, a price list</label>
          <input id="bring" type="file" name="file" accept=".yaml,.yml,.stl,.obj,.ply,.glb,.gltf,.ies,.ldt,.csv,.epw" required>
          <button>bring it</button></form></section>
    </div>
  </div>`,
  data() {
    const empty = { name: "", size: ["", "", ""], animals: [{ species: "", males: 1, females: 1, young: 0 }], winter: { day: "", night: "", humidity: "" }, summer: { day: "", night: "", humidity: "" }, altitude: "" };
    try { return { wish: { ...empty, ...JSON.parse(sessionStorage.getItem("wish") || "{}") } }; } catch { return { wish: empty }; }
  },
  watch: { wish: { deep: true, handler(w) { sessionStorage.setItem("wish", JSON.stringify(w)); } } },
  methods: {
    resident() { return { species: "", males: 1, females: 0, young: 0 }; },
    make() {
      this.$emit("make", { ...JSON.parse(JSON.stringify(this.wish)), animals: this.wish.animals.filter((a) => a.species), system: this.start.system });
    },
  },
};
