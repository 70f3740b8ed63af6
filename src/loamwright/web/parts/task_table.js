// Tasks of the build with their times; own times are typed here.
export default {
  props: { sheet: Object },
  template: `
  <section class="panel" :aria-label="sheet.title"><h2>{{ sheet.title }}</h2>
    <p class="about">{{ sheet.about }}</p>
    <div class="wide-table" tabindex="0" role="region" :aria-label="'Table: ' + sheet.title"><table class="plain" data-table="tasks">
      <thead><tr><th scope="col">task</th><th v-if="sheet.days" scope="col">when</th><th scope="col">work of each</th><th scope="col" class="num">hands</th><th v-if="sheet.days" scope="col">then wait</th><th v-if="sheet.days" scope="col" class="num">slack</th><th v-if="sheet.costs" scope="col" class="num">cost {{ sheet.currency }}</th></tr></thead>
      <tbody><tr v-for="t in rows" :key="t.key"><th scope="row">{{ t.name }}</th><td v-if="sheet.days" class="when">{{ t.when }}</td>
        <td v-for="w in (sheet.days ? [t.work, null, t.wait] : [t.work, null])" :class="{num: !w}" :data-label="!w ? 'hands' : w.section === 'work' ? 'work' : 'then wait'"><template v-if="w">
          <input type="text" class="short" :value="w.value" :placeholder="w.told || 'none'" :data-time="w.section + '.' + t.key" :aria-label="(w.section === 'work' ? 'Work: ' : 'Wait after: ') + t.name" :aria-invalid="w.message.length > 0" @change="$emit('time', {section: w.section, key: t.key, value: $event.target.value})" autocomplete="off">
          <p v-for="m in w.message" class="said" role="alert"><span aria-hidden="true">✗</span> {{ m }}</p></template><template v-else>{{ t.hands || "–" }}</template></td>
        <td v-if="sheet.days" class="num" data-label="slack">{{ t.slack }}</td><td v-if="sheet.costs" class="num" data-label="cost">{{ sheet.costs[t.name] || "–" }}</td></tr></tbody></table></div>
    <p v-if="sheet.note" class="about">{{ sheet.note }}</p></section>`,
  computed: { rows() { return this.sheet.days ? this.sheet.tasks : this.sheet.tasks.filter((t) => t.hands); } },
};
