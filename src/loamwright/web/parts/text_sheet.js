// The file as text: for what no form holds, and for mending what cannot be read.
export default {
  props: { text: String, problems: Array, shut: Boolean },
  template: `
  <section class="text-sheet" aria-label="The file as text">
    <ul v-if="problems.length" class="problems" role="alert"><li v-for="(p, n) in problems" :key="n"><button v-if="p.line" type="button" class="quiet" @click="go(p.line)">line {{ p.line }}</button> <b>{{ p.field }}</b> {{ p.message }}</li></ul>
    <label for="whole-text">The habitat file</label>
    <textarea id="whole-text" ref="area" :value="text" spellcheck="false" rows="24" @input="mine = $event.target.value"></textarea>
    <div class="row"><button type="button" class="main" @click="$emit('write', mine ?? text)">take this text</button>
      <button type="button" v-if="shut" @click="$emit('shut')">close</button></div>
  </section>`,
  data() { return { mine: null }; },
  watch: { text() { this.mine = null; } },
  methods: {
    go(line) {
      const area = this.$refs.area, before = area.value.split("\n").slice(0, line - 1).join("\n").length;
      area.focus();
      area.setSelectionRange(before + 1, before + 1 + (area.value.split("\n")[line - 1] || "").length);
      area.scrollTop = (line - 4) * 18;
    },
  },
};
