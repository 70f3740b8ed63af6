// What is shown as colour, where, and at what hour.
export default {
  props: { bar: Object },
  template: `
  <div class="fieldbar" role="group" aria-label="Shown as colour">
    <label>show <select :value="bar.wanted.quantity" @change="ask({quantity: $event.target.value})" data-control="quantity"><option v-for="q in bar.quantities" :key="q[0]" :value="q[0]">{{ q[1] }}</option></select></label>
    <label v-if="bar.wanted.quantity !== 'none'">where <select :value="bar.wanted.plane" @change="ask({plane: $event.target.value})" data-control="plane"><option v-for="p in bar.planes" :key="p[0]" :value="p[0]">{{ p[1] }}</option></select></label>
    <label v-if="bar.wanted.quantity !== 'none' && bar.wanted.plane !== 'skin'" class="slide">at <input type="range" min="0.02" max="0.98" step="0.02" :value="bar.wanted.position" @change="ask({position: +$event.target.value})" data-control="position" :aria-valuetext="Math.round(bar.wanted.position * 100) + ' %'"></label>
    <label>season <select :value="bar.wanted.season" @change="ask({season: $event.target.value})" data-control="season"><option v-for="s in bar.seasons" :key="s">{{ s }}</option></select></label>
    <label class="slide hour">hour <input type="range" min="0" max="24" step="0.5" :value="now" @input="turn($event.target.value)" data-control="hour" :aria-valuetext="said"><output>{{ bar.wanted.hour === null && at === null ? "" : said }}</output></label>
    <button type="button" :aria-pressed="bar.wanted.hour === null" @click="at = null; ask({hour: null})">all lamps on</button>
  </div>`,
  data() { return { at: null }; },
  computed: {
    now() { return this.at ?? this.bar.wanted.hour ?? 12; },
    said() { return this.bar.wanted.hour === null && this.at === null ? "all lamps on" : `${String(Math.floor(this.now)).padStart(2, "0")}:${this.now % 1 ? "30" : "00"}`; },
  },
  methods: {
    ask(what) { this.$emit("ask", { hour: this.bar.wanted.hour, ...what }); },
    turn(value) {
      this.at = +value;
      // The last place of the slider always arrives; between, no more than eight a second.
      clearTimeout(this.late);
      const now = performance.now();
      if (now - (this.sent || 0) > 120) { this.sent = now; this.ask({ hour: this.at }); }
      else this.late = setTimeout(() => this.ask({ hour: this.at }), 130);
    },
  },
};
