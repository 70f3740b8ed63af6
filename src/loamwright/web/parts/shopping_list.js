// The shopping list by its headings; prices are typed here and written to the price list.
export default {
  props: { sheet: Object },
  template: `
  <section class="panel" aria-label="Shopping list"><h2>Shopping list</h2>
    <p v-if="sheet.why" class="about">{{ sheet.why }}</p>
    <template v-else>
    <p class="told" role="status"><b class="sum" data-sum>{{ sheet.sum ? sheet.sum + " " + sheet.currency : "no currency" }}</b> for everything bought, before margin and tax.
      <span v-if="sheet.incomplete" class="incomplete"><b aria-hidden="true">✗</b> {{ sheet.incomplete }}</span></p>
    <p v-if="sheet.waiting" class="about">{{ sheet.waiting }}</p>
    <p class="about" v-if="sheet.no_money">This file names no currency yet. Give one in the form of the money below, then prices can be typed here.</p>
    <p class="about" v-else>Prices are without tax. One that you type is written at once to <b>{{ sheet.list || sheet.new_list }}</b><template v-if="!sheet.list">, a new price list beside the file</template>; everything else in the list stays as it is. Needed: with waste and spares. To buy: whole packs, at least cost.</p>
    <div class="wide-table" tabindex="0" role="region" aria-label="Table: shopping list"><table class="plain shopping">
      <thead><tr><th scope="col">what</th><th scope="col" class="num">needed</th><th scope="col">price of a pack</th><th scope="col">to buy</th><th scope="col" class="num">cost {{ sheet.currency }}</th></tr></thead>
      <tbody v-for="g in sheet.groups" :key="g.title"><tr class="group"><th colspan="5" scope="rowgroup">{{ g.title }}</th></tr>
        <tr v-for="r in g.rows" :key="r.key" :class="{unpriced: !r.known}" :data-line="r.key">
          <td><details class="thing"><summary>{{ r.name }}</summary><p>{{ r.why }}</p><p v-if="r.uses.length">for {{ r.uses.join(", ") }}</p><p>key in the price list: <code>{{ r.key }}</code></p></details></td>
          <td class="num" data-label="needed">{{ r.needed }}</td>
          <td><div v-for="p in r.prices" :key="p.pack" class="price">
              <input type="text" inputmode="decimal" :value="p.price" :disabled="sheet.no_money" :data-price="r.key + ':' + p.pack" :aria-label="'Price of ' + p.pack + ' of ' + r.name" :aria-invalid="p.message.length > 0" @change="send(r, p.pack, $event.target.value)" autocomplete="off">
              <span>for {{ p.pack.replace("m2", "m²") }}</span><p v-for="m in p.message" class="said" role="alert"><span aria-hidden="true">✗</span> {{ m }}</p></div>
            <div v-if="r.new" class="price">
              <input type="text" inputmode="decimal" :value="r.new.price" :disabled="sheet.no_money" placeholder="no price" :data-price="r.key + ':new'" :aria-label="'Price of ' + r.name" :aria-invalid="r.new.message.length > 0" @change="send(r, packs[r.key] || r.new.pack, $event.target.value)" autocomplete="off">
              <label>for <input type="text" class="pack" :disabled="sheet.no_money" :value="packs[r.key] || r.new.pack" :aria-label="'Pack of ' + r.name + ', such as ' + r.new.pack" @change="packs[r.key] = $event.target.value.trim()" autocomplete="off"></label>
              <p v-for="m in r.new.message" class="said" role="alert"><span aria-hidden="true">✗</span> {{ m }}</p></div></td>
          <td data-label="to buy">{{ r.buy }}</td><td class="num" data-label="cost" :data-cost="r.key"><template v-if="r.known">{{ r.cost }}</template><span v-else class="incomplete"><span aria-hidden="true">✗</span> no price</span></td></tr></tbody>
    </table></div></template></section>`,
  data() { return { packs: {} }; },
  methods: {
    send(row, pack, price) {
      const now = new Date(), date = new Date(now.getTime() - 60000 * now.getTimezoneOffset()).toISOString().slice(0, 10);
      this.$emit("price", { key: row.key, pack, price, date });
    },
  },
};
