// The plants: light at each crown against its need, pruning dates, who shades whom; adding and removing.
export default {
  props: { sheet: Object, picked: String, live: Object },
  template: `
  <section class="panel" aria-label="Plants"><h2>Plants</h2>
    <form class="choose" @submit.prevent="add"><label>add <select v-model="species" data-control="plant-species" aria-label="Species to add"><option value="">choose a plant</option><option v-for="o in sheet.species" :key="o[0]" :value="o[0]">{{ o[1] }}</option></select></label>
      <button type="submit" :disabled="!species">add plant</button>
      <button type="button" class="danger" :disabled="!here" @click="$emit('remove', picked)">remove {{ here ? here.name : "" }}</button></form>
    <p class="about">Pick a plant here or in the scene, then drag it: its light at the new place is told while you drag. On the keyboard hold Control and use the arrow keys in the scene.</p>
    <p v-if="!sheet.plants.length" class="about">There are no plants yet.</p>
    <div v-else class="wide-table" tabindex="0" role="region" aria-label="Table of plants"><table class="plain" data-table="plants"><thead><tr><th scope="col">plant</th><th scope="col" class="num">light, mol/m²/d</th><th scope="col" class="num">needs</th><th scope="col" class="bar-head">the line is the need</th><th scope="col">state</th><th scope="col">shaded in a year by</th><th scope="col">prune</th></tr></thead>
      <tbody><tr v-for="p in sheet.plants" :key="p.id" :aria-current="p.id === picked ? 'true' : null">
        <th scope="row"><button type="button" class="entry" @click="$emit('pick', p.id)" :data-plant="p.name">{{ p.name }}</button><small>{{ p.label }}, {{ p.size }}</small></th>
        <td class="num" :data-light="p.name">{{ now(p).light }}<em v-if="live && live.id === p.id" class="live">at the new place</em></td><td class="num">{{ p.need }}</td>
        <td><span v-if="now(p).share !== null" class="share" aria-hidden="true"><i :style="{width: 100 * now(p).share + '%'}" :class="'is-' + now(p).state"></i></span></td>
        <td :class="['state-cell', 'is-' + now(p).state]"><template v-if="now(p).word"><b class="sign" aria-hidden="true">{{ now(p).sign }}</b> <span class="word">{{ now(p).word }}</span></template></td>
        <td>{{ p.shaded.map((s) => s[0] + " " + s[1]).join(", ") || "–" }}</td>
        <td>{{ p.grows || prunings(p) }}</td></tr></tbody></table></div>
    <p class="choose"><label>planted on <input type="date" v-model="planted" data-control="planted"></label><span class="about">Pruning dates count from here; growth is that of a planting in the middle of winter.</span></p>
  </section>`,
  data() { return { species: "", planted: new Date(Date.now() - 60000 * new Date().getTimezoneOffset()).toISOString().slice(0, 10) }; },
  computed: { here() { return this.sheet.plants.find((p) => p.id === this.picked); } },
  methods: {
    add() { if (this.species) this.$emit("add", this.species); },
    now(p) { return this.live && this.live.id === p.id ? this.live : p; },
    prunings(p) {
      if (!p.pruned.length) return "not within a year";
      const start = new Date(this.planted + "T00:00:00Z"), form = new Intl.DateTimeFormat(this.sheet.system === "us" ? "en-US" : "en-GB", { day: "numeric", month: "short", timeZone: "UTC" });
      const shown = p.pruned.slice(0, 4).map((d) => (isNaN(start) ? `day ${d}` : form.format(new Date(start.getTime() + 86400000 * d))));
      return shown.join(", ") + (p.pruned.length > 4 ? ` and ${p.pruned.length - 4} more` : "");
    },
  },
};
