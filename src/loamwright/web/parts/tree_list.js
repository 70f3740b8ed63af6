// What the habitat holds: groups of entries, one of them picked.
export default {
  props: { groups: Array, picked: String },
  template: `
  <nav class="tree" aria-label="What is in the habitat">
    <details v-for="g in groups" :key="g.title" :open="g.items.some(i => i.id === picked) || open[g.title]" @toggle="open[g.title] = $event.target.open">
      <summary>{{ g.title }} <span class="count">{{ g.items.length }}</span></summary>
      <ul>
        <li v-for="i in g.items" :key="i.id">
          <button type="button" class="entry" :aria-current="i.id === picked ? 'true' : null" @click="$emit('pick', i.id)">{{ i.label }}</button>
        </li>
        <li v-if="g.add"><button type="button" class="entry add" @click="$emit('add', g.add)">+ add {{ g.what }}</button></li>
      </ul>
    </details>
  </nav>`,
  data() { return { open: { lamps: true, sites: true } }; },
};
