// Values at the sites, at one hour of the day.
export default {
  props: { table: Object, picked: String },
  template: `
  <section class="sites" aria-label="Values at the sites">
    <table>
      <caption>{{ table.caption }}</caption>
      <thead><tr><th scope="col" v-for="c in table.columns" :key="c[0]" :title="c[2]">{{ c[0] }}<small v-if="c[1]"> {{ c[1] }}</small></th></tr></thead>
      <tbody><tr v-for="r in table.rows" :key="r.id" :aria-current="r.id === picked ? 'true' : null">
        <th scope="row"><button type="button" class="entry" @click="$emit('pick', r.id)">{{ r.name }}</button></th>
        <td v-for="(v, n) in r.values" :key="n" :data-site="r.name" :data-column="n">{{ v.now }}<em v-if="v.change" :class="v.kind">{{ v.change }}</em></td></tr></tbody>
    </table>
  </section>`,
};
