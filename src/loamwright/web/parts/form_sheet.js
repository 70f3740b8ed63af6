// The form of the picked entry: made from the file's schema, problems said at the field.
export default {
  props: { form: Object, title: String },
  template: `
  <section class="form" :aria-label="'Form: ' + title">
    <div class="form-head"><h2>{{ title }}</h2>
      <button v-if="form && form.removable" type="button" class="quiet danger" @click="$emit('remove')">remove</button></div>
    <p v-if="form && form.about" class="about">{{ form.about }}</p>
    <form v-if="form" @submit.prevent>
      <div v-for="f in form.fields" :key="f.name" class="field" :class="{wrong: wrong(f)}">
        <template v-if="f.kind === 'choice'">
          <label :for="id(f.name)">{{ f.label }}<span v-if="f.needed" class="needed"> (needed)</span></label>
          <select :id="id(f.name)" :data-field="f.name" :value="f.value" @change="send(f, f, $event.target.value)" :aria-describedby="told(f)" :aria-invalid="f.message.length > 0">
            <option v-if="!f.needed || !f.value" value="">left out</option>
            <option v-for="o in f.options" :key="o[0]" :value="o[0]">{{ o[1] }}</option>
          </select>
        </template>
        <fieldset v-else-if="f.kind === 'many'">
          <legend>{{ f.label }}<span v-if="f.needed" class="needed"> (needed)</span></legend>
          <div class="many">
            <label v-for="p in f.parts" :key="p.name"><span>{{ p.axis }}</span>
              <input type="text" :data-field="p.name" :value="shown(p)" :placeholder="p.value ? '' : f.example" @input="typing(p, $event)" @change="send(f, p, $event.target.value)"
                :aria-invalid="p.message.length > 0" :aria-label="f.label + ' ' + p.axis" :aria-describedby="id(p.name) + '-said'" autocomplete="off" spellcheck="false">
              <small v-if="p.also" class="also">{{ p.also }}</small></label>
          </div>
          <template v-for="p in f.parts" :key="p.name"><p v-for="m in p.message" class="said" :id="id(p.name) + '-said'" role="alert"><span aria-hidden="true">✗</span> {{ m }}</p></template>
        </fieldset>
        <template v-else>
          <label :for="id(f.name)">{{ f.label }}<span v-if="f.needed" class="needed"> (needed)</span></label>
          <input type="text" :id="id(f.name)" :data-field="f.name" :value="shown(f)" :placeholder="f.example" @input="typing(f, $event)" @change="send(f, f, $event.target.value)"
            :aria-invalid="f.message.length > 0" :aria-describedby="told(f)" autocomplete="off" spellcheck="false">
          <small v-if="f.also" class="also">{{ f.also }}</small>
        </template>
        <template v-if="f.kind !== 'many'"><p v-for="m in f.message" class="said" role="alert"><span aria-hidden="true">✗</span> {{ m }}</p></template>
        <details class="help"><summary :aria-label="'About ' + f.label">?</summary><p :id="id(f.name) + '-about'">{{ f.about }}</p></details>
      </div>
    </form>
    <p v-else class="about">Pick something in the scene or in the list.</p>
  </section>`,
  data() { return { typed: this.load() }; },
  watch: {
    // Another entry begins at its top.
    title() { this.$nextTick(() => { this.$el.scrollTop = 0; }); },
    form: { deep: true, handler() {
      // What the server took or refused is in the form now; only what was not sent stays typed.
      for (const f of this.form?.fields || []) for (const p of f.parts || [f]) if (this.typed[p.name] === p.value || this.sent?.has(p.name)) { delete this.typed[p.name]; }
      this.sent = new Set();
      this.store();
    } },
  },
  methods: {
    key() { return "typed:" + location.pathname + location.search; },
    load() { try { return JSON.parse(sessionStorage.getItem("typed:" + location.pathname + location.search)) || {}; } catch { return {}; } },
    store() { sessionStorage.setItem(this.key(), JSON.stringify(this.typed)); },
    id(name) { return "f-" + name.replace(/[^\w]/g, "-"); },
    told(f) { return this.id(f.name) + "-about"; },
    wrong(f) { return (f.parts || [f]).some((p) => p.message.length); },
    shown(p) { return this.typed[p.name] ?? p.value; },
    typing(p, e) { this.typed[p.name] = e.target.value; this.store(); },
    send(f, p, value) {
      (this.sent ||= new Set()).add(p.name);
      this.$emit("set", { field: f.name, loc: p.loc, value, before: p.value });
    },
  },
};
