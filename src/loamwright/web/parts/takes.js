// Drawings one under the other, and files to take away.
export default {
  props: { sheet: Object },
  template: `
  <div><p v-if="sheet.links && sheet.links.length" class="choose takes"><a v-for="l in sheet.links" :key="l[1]" class="take" :href="l[1]" download :data-take="l[2]">{{ l[0] }}</a></p>
    <section v-if="sheet.title" class="panel" :aria-label="sheet.title"><h2>{{ sheet.title }}</h2><p v-if="sheet.about" class="about">{{ sheet.about }}</p>
      <div v-for="d in sheet.drawn || []" :key="d[0]" class="drawn build-drawn wide-table" tabindex="0" role="region" :aria-label="'Drawing: ' + d[0]"><img :src="d[1]" :alt="d[0]"></div></section></div>`,
};
