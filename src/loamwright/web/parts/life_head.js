// The head of a page in parts: its parts as tabs, whose they are, and what is under way.
export default {
  props: { head: Object },
  template: `
  <div class="life-head">
    <div class="life-title"><h1>{{ head.title }}</h1>
      <label v-if="head.kinds && head.kinds.length > 1">species <select :value="head.kind" data-control="species" @change="$emit('ask', {kind: $event.target.value})"><option v-for="k in head.kinds" :key="k[0]" :value="k[0]">{{ k[1] }}</option></select></label></div>
    <div class="tabs" role="tablist" aria-label="Parts of this page" @keydown="turn">
      <button v-for="p in head.parts" :key="p[0]" type="button" role="tab" :id="'tab-' + p[0]" :aria-selected="p[0] === head.part ? 'true' : 'false'" :aria-controls="head.name + '-part'"
        :tabindex="p[0] === head.part ? 0 : -1" @click="open(p[0])">{{ p[1] }}</button></div>
    <p v-for="b in head.busy" :key="b" class="busy" role="status"><i aria-hidden="true"></i> {{ b }} …</p>
    <p v-if="head.trouble" class="trouble" role="alert">{{ head.trouble }}</p>
    <p v-if="head.old" class="about">What stands below is that of before the last change; it is being worked out anew.</p>
  </div>`,
  mounted() {
    const kept = sessionStorage.getItem(this.head.name + "-part");
    if (kept && kept !== this.head.part && this.head.parts.some((p) => p[0] === kept)) this.$emit("ask", { part: kept });
  },
  methods: {
    open(part) {
      sessionStorage.setItem(this.head.name + "-part", part);
      this.$emit("ask", { part });
    },
    turn(e) {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[e.key];
      if (!by) return;
      e.preventDefault();
      const parts = this.head.parts.map((p) => p[0]);
      const next = parts[(parts.indexOf(this.head.part) + by + parts.length) % parts.length];
      this.$el.querySelector("#tab-" + next).focus();
      this.open(next);
    },
  },
};
