// The head of every page: where one is, whether it is saved, undo and redo, units and light.
export default {
  props: { bar: Object },
  template: `
  <header class="bar">
    <a class="skip" href="#main">to the content</a>
    <a class="brand" :href="bar.home"><span aria-hidden="true" class="mark"></span>loamwright</a>
    <div class="where" v-if="bar.file"><b>{{ bar.name }}</b><small :title="bar.file">{{ bar.file }}</small></div>
    <nav class="pages" aria-label="Pages" v-if="bar.file"><a v-for="p in bar.pages" :key="p.path" :href="p.path" :aria-current="p.here ? 'page' : null">{{ p.title }}</a></nav>
    <div class="doing" v-if="bar.file">
      <button type="button" :disabled="!bar.undo" :title="bar.undo ? 'Undo: ' + bar.undo : 'Nothing to undo'" @click="$emit('do', 'undo')" aria-keyshortcuts="Control+Z">undo</button>
      <button type="button" :disabled="!bar.redo" :title="bar.redo ? 'Redo: ' + bar.redo : 'Nothing to redo'" @click="$emit('do', 'redo')" aria-keyshortcuts="Control+Y">redo</button>
      <button type="button" class="main" :disabled="!bar.dirty" @click="$emit('do', 'save')" aria-keyshortcuts="Control+S">save</button>
      <span class="state" role="status"><span aria-hidden="true">{{ bar.dirty ? '●' : '✓' }}</span> {{ bar.dirty ? 'not saved; kept as a draft' : 'saved' }}</span>
      <details class="menu"><summary>more</summary><div>
        <a v-for="d in bar.downloads" :key="d.href" :href="d.href" :target="d.open ? '_blank' : null" rel="noopener">{{ d.title }}</a>
        <button type="button" @click="$emit('do', 'text')">the file as text</button>
      </div></details>
    </div>
    <div class="ways">
      <label>units <select :value="bar.system" @change="$emit('do', 'units:' + $event.target.value)"><option value="metric">metric</option><option value="us">US</option></select></label>
      <button type="button" @click="$emit('do', night ? 'dark:off' : 'dark:on')">{{ night ? 'light' : 'dark' }}</button>
      <a v-if="bar.leave" :href="bar.leave">leave</a>
    </div>
    <div v-if="bar.conflict" class="conflict" role="alert">
      <p><b>The file has changed on disk</b> since it was read here. {{ bar.conflict }}</p>
      <button type="button" @click="$emit('do', 'disk')">take the one on disk</button>
      <button type="button" @click="$emit('do', 'mine')">keep mine</button>
      <button type="button" class="quiet" @click="$emit('do', 'compare')">show what differs</button>
    </div>
    <div v-if="bar.said" class="said-once" role="status">{{ bar.said }} <button type="button" class="quiet" @click="$emit('do', 'heard')">close</button></div>
  </header>`,
  data() { return { night: document.body.classList.contains("body--dark") }; },
  mounted() {
    this.night = document.body.classList.contains("body--dark");
    this.listen = (e) => {
      if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
      const typing = /^(INPUT|TEXTAREA)$/.test(document.activeElement?.tagName || "");
      const key = e.key.toLowerCase();
      if (key === "s") { e.preventDefault(); document.activeElement?.blur(); this.$emit("do", "save"); }
      else if (!typing && key === "z") { e.preventDefault(); this.$emit("do", e.shiftKey ? "redo" : "undo"); }
      else if (!typing && key === "y") { e.preventDefault(); this.$emit("do", "redo"); }
    };
    document.addEventListener("keydown", this.listen);
    // Work under way shows that it is alive by a turn now and then: one that turns for ever would cost more than the work.
    this.beat = setInterval(() => document.querySelectorAll(".busy i").forEach((i) => i.classList.toggle("beat")), 600);
  },
  unmounted() { clearInterval(this.beat); document.removeEventListener("keydown", this.listen); },
};
