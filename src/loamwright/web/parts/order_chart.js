// The order of work as bars over the days: work solid, waits hatched, what keeps the animals out in its own colour.
const LEFT = 300, ROW = 24, TOP = 46;
export default {
  props: { chart: Object },
  template: `
  <section class="panel" aria-label="Order of work"><h2>Order of work</h2>
    <p v-if="!chart.bars" class="about">{{ chart.why }}</p>
    <figure v-else class="order-figure"><div class="wide-table" tabindex="0" role="region" aria-label="Chart: order of work, by days">
    <svg class="chart order" :viewBox="'0 0 1180 ' + height" role="img" :aria-label="'Order of work. ' + (chart.told ? 'Animals may enter on ' + chart.told + '.' : '')">
      <defs><pattern id="waits" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2" height="6" class="hatch-wait"/></pattern>
        <pattern id="binds" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2.6" height="6" class="hatch-bind"/></pattern></defs>
      <rect v-for="d in chart.shut" :key="'s' + d" class="night" :x="x(d)" :y="top" :width="Math.max(0, x(Math.min(d + 1, chart.days)) - x(d))" :height="height - top - 24"/>
      <g v-for="t in chart.ticks" :key="t[0]"><line class="axis" :x1="x(t[0])" :x2="x(t[0])" :y1="top" :y2="height - 24"/><text :x="x(t[0])" :y="height - 8" :text-anchor="t[0] ? 'middle' : 'start'">{{ t[1] }}</text></g>
      <g v-for="(b, n) in chart.bars" :key="b.key" :class="['task', {binding: b.binding}]" :data-task="b.key"><title>{{ b.told }}</title>
        <rect class="grip" x="0" :y="y(n)" width="1180" :height="row"/>
        <text class="task-name" :x="left - 10" :y="y(n) + 16" text-anchor="end">{{ b.name.length > longest ? b.name.slice(0, longest - 1) + "…" : b.name }}</text>
        <line v-if="b.slack > 0 && !b.binding" class="slack" :x1="x(b.end)" :x2="x(Math.min(b.end + b.slack, chart.days))" :y1="y(n) + 12" :y2="y(n) + 12"/>
        <rect v-if="b.end > b.worked" class="wait" :x="x(b.worked)" :y="y(n) + 5" :width="x(b.end) - x(b.worked)" height="14" :fill="b.binding ? 'url(#binds)' : 'url(#waits)'"/>
        <rect v-if="b.worked > b.begin" class="work" :x="x(b.begin)" :y="y(n) + 5" :width="Math.max(3, x(b.worked) - x(b.begin))" height="14"/></g>
      <g v-if="chart.enter !== null"><line class="enter" :x1="x(chart.enter)" :x2="x(chart.enter)" :y1="top - 8" :y2="height - 24"/>
        <text class="enter-name" :x="x(chart.enter) - 6" :y="top - 14" text-anchor="end">animals may enter: {{ chart.told }}</text></g>
      <text :x="left - 10" :y="height - 8" text-anchor="end">{{ chart.axis }}</text>
    </svg></div>
    <ul class="signs order-signs"><li><i class="of-work" aria-hidden="true"></i> work</li><li><i class="of-wait" aria-hidden="true"></i> waiting</li><li><i class="of-bind" aria-hidden="true"></i> keeps the animals out: work</li><li><i class="of-bind-wait" aria-hidden="true"></i> the same: waiting</li><li><i class="of-slack" aria-hidden="true"></i> slack</li><li v-if="chart.shut.length"><i class="of-shut" aria-hidden="true"></i> nobody works</li></ul>
    </figure></section>`,
  computed: {
    // Letters that fit, those of what keeps the animals out being bold.
    longest() { return 36; },
    left() { return LEFT; }, row() { return ROW; }, top() { return TOP; },
    height() { return TOP + ROW * this.chart.bars.length + 30; },
  },
  methods: {
    x(day) { return LEFT + (day / Math.max(1, this.chart.days)) * (1180 - LEFT - 14); },
    y(n) { return TOP + ROW * n; },
  },
};
