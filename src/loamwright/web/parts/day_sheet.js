// Round the day's curves: what is chosen, the sums, and what can fail.
export default {
  props: { sheet: Object },
  template: `
  <div v-if="sheet.kind === 'head'">
    <h1>A typical day</h1>
    <div class="choose" role="group" aria-label="Season"><button v-for="s in sheet.seasons" :key="s" type="button" :aria-pressed="s === sheet.season" @click="$emit('ask', {season: s})">{{ s }}</button>
      <span v-if="sheet.hours">the day's hours: {{ sheet.hours }}</span></div>
    <p v-if="sheet.trouble" class="trouble" role="alert"><b>No climate:</b> {{ sheet.trouble }}</p>
    <p class="busy" role="status" v-for="b in sheet.busy" :key="b"><i aria-hidden="true"></i> {{ b }} …</p>
    <p v-if="sheet.old" class="about">The curves below are those of before the last change; new ones are being run.</p>
    <p v-else-if="sheet.settling" class="about settling">This is the first day after the last change; it goes on until a day repeats itself, and the curves may still move a little.</p>
    <div class="cards"><div class="card" v-for="c in sheet.cards" :key="c[0]"><small>{{ c[0] }}</small><b>{{ c[1] }}</b><small>{{ c[2] }}</small></div></div>
    <fieldset class="choose"><legend>Places</legend><label v-for="s in sheet.sites" :key="s[2]"><input type="checkbox" :checked="s[1]" @change="$emit('ask', {site: s[2]})"> {{ s[0] }}</label></fieldset>
  </div>
  <div v-else>
    <section class="panel" aria-label="Electricity" v-if="sheet.bars.energy.length"><h2>Electricity of the day</h2><div class="bars"><div class="one" v-for="b in sheet.bars.energy" :key="b[0]"><span>{{ b[0] }}</span><i :style="{width: 100 * b[1] + '%'}" aria-hidden="true"></i><span>{{ b[2] }}</span></div></div></section>
    <section class="panel" aria-label="Water" v-if="sheet.bars.water.length"><h2>Water of the day</h2><div class="bars"><div class="one" v-for="b in sheet.bars.water" :key="b[0]"><span>{{ b[0] }}</span><i :style="{width: 100 * b[1] + '%'}" aria-hidden="true"></i><span>{{ b[2] }}</span></div></div></section>
    <section class="panel" aria-label="Drills"><h2>What fails, what follows</h2>
      <p class="about">Each lamp, fan, controller, valve and the mains fail in turn, and the two days after are followed against what the residents bear.</p>
      <p v-if="sheet.running" class="busy" role="status"><i aria-hidden="true"></i> {{ sheet.running }} … <button type="button" @click="$emit('ask', {drills: 'stop'})">stop</button></p>
      <button v-else type="button" class="main" :disabled="!sheet.ready" @click="$emit('ask', {drills: 'run'})">{{ sheet.drills ? 'run them again' : 'run the drills' }}</button>
      <p v-if="sheet.trouble" class="trouble" role="alert">{{ sheet.trouble }}</p>
      <p v-if="sheet.drills && !sheet.drills.length" class="about">Nothing of this habitat can fail in a way this program knows.</p>
      <details v-for="(d, n) in sheet.drills || []" :key="n" class="finding" :class="d.passed ? 'is-missed' : 'is-met'" :open="d.passed">
        <summary><b class="sign" aria-hidden="true">{{ d.passed ? '✗' : '✓' }}</b><span class="word">{{ d.passed ? 'a limit is passed' : 'no limit passed' }}</span><span class="what">{{ d.heading }}</span></summary>
        <dl><template v-for="(l, i) in d.lines" :key="i"><dt>{{ l[0] }}</dt><dd>{{ l[1] }}</dd></template></dl></details>
    </section>
  </div>`,
};
