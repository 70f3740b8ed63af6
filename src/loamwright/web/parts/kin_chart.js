// A pedigree by generations. Squares are males, circles females, diamonds of unknown sex; filled ones are in the planned group.
const HIGH = 104, R = 13;

export default {
  props: { kin: Object },
  template: `
  <section class="panel" aria-label="Pedigree"><h2>Pedigree</h2>
    <p v-if="kin.why" class="about">{{ kin.why }}</p>
    <template v-else>
    <p class="about">Square: male; circle: female; diamond: sex not known. Filled: in the planned group, with how far it is inbred and its mean kinship with the group. Open: an ancestor. Choose one to see its parents and young.</p>
    <div class="kin-frame" tabindex="0" role="region" aria-label="Pedigree drawn; the tables below have the same">
    <svg class="kin" :width="W" :height="H" :viewBox="'0 0 ' + W + ' ' + H" role="group" aria-label="Pedigree by generations, the oldest above">
      <g v-for="(c, n) in joined" :key="'c' + n" :class="['line', {lit: c.lit}]">
        <path v-for="(d, i) in c.paths" :key="i" :d="d"/></g>
      <g v-for="a in placed" :key="a.id" :class="['kin-one', a.member ? 'in' : 'out', {lit: a.lit, dim: near && !a.lit}]" :transform="'translate(' + a.x + ' ' + a.y + ')'"
        tabindex="0" role="button" :aria-label="words(a)" :aria-pressed="focus === a.id ? 'true' : 'false'" @click="toggle(a.id)" @keydown.enter="toggle(a.id)" @keydown.space.prevent="toggle(a.id)">
        <rect class="grip" x="-38" y="-20" width="76" height="84"/>
        <rect v-if="a.sex === 'male'" class="mark" :x="-R" :y="-R" :width="2 * R" :height="2 * R"/>
        <circle v-else-if="a.sex === 'female'" class="mark" :r="R"/>
        <path v-else class="mark" d="M0 -16L16 0L0 16L-16 0Z"/>
        <text y="30" text-anchor="middle" class="kin-name">{{ a.name }}</text>
        <text v-if="a.member" y="44" text-anchor="middle">F {{ a.inbred }}</text>
        <text v-if="a.member" y="57" text-anchor="middle">mk {{ a.kinship }}</text>
      </g>
    </svg></div>
    <p class="chart-told" aria-live="polite">{{ focus ? words(byId[focus]) : "F: inbreeding; mk: mean kinship." }}</p>
    <p v-for="(t, n) in kin.told" :key="n" class="told">{{ t }}</p>
    </template>
  </section>`,
  data() { return { focus: "", R, room: 800 }; },
  mounted() {
    this.watch = new ResizeObserver(() => { this.room = Math.max(this.$el.clientWidth - 36, 260); });
    this.watch.observe(this.$el);
  },
  unmounted() { this.watch.disconnect(); },
  computed: {
    most() { return Math.max(1, ...this.kin.animals.map((a) => a.of)); },
    // Never so narrow that names lie on each other: a wide one is scrolled.
    W() { return Math.max(Math.min(this.room, 140 * this.most), 84 * this.most); },
    H() { return 24 + HIGH * (1 + Math.max(0, ...this.kin.animals.map((a) => a.row))) - 14; },
    byId() { return Object.fromEntries(this.placed.map((a) => [a.id, a])); },
    near() {
      if (!this.focus) return null;
      const out = new Set([this.focus]);
      for (const c of this.kin.couples) {
        if (c.young.includes(this.focus)) c.parents.forEach((p) => out.add(p));
        if (c.parents.includes(this.focus)) c.young.forEach((y) => out.add(y));
      }
      return out;
    },
    placed() {
      return this.kin.animals.map((a) => ({ ...a, x: ((a.place + 0.5) / a.of) * this.W, y: 24 + a.row * HIGH, lit: this.near ? this.near.has(a.id) : false }));
    },
    joined() {
      const at = this.byId;
      return this.kin.couples.map((c) => {
        const parents = c.parents.map((p) => at[p]), young = c.young.map((y) => at[y]);
        const x = [...parents, ...young].reduce((s, a) => s + a.x, 0) / (parents.length + young.length);
        const y = Math.min(...young.map((a) => a.y)) - 24;
        const paths = parents.map((p) => `M${p.x} ${p.y + (p.member ? 60 : 33)}C${p.x} ${y - 8} ${x} ${y - 18} ${x} ${y}`);
        for (const k of young) paths.push(`M${x} ${y}C${x} ${y + 8} ${k.x} ${k.y - 24} ${k.x} ${k.y - R}`);
        return { paths, lit: !!this.near && (c.parents.includes(this.focus) || c.young.includes(this.focus)) };
      });
    },
  },
  methods: {
    toggle(id) { this.focus = this.focus === id ? "" : id; },
    words(a) {
      if (!a) return "";
      const sex = a.sex === "unknown" ? "sex not known" : a.sex;
      const parents = a.parents.length ? `parents known: ${a.parents.join(" and ")}` : "no parents known";
      const member = a.member ? `, inbred by ${a.inbred}, mean kinship ${a.kinship}` : ", not in the planned group";
      return `${a.name}: ${sex}, ${parents}${a.lives ? `, lives in ${a.lives}` : ""}${member}`;
    },
  },
};
