// The scene: a habitat in three dimensions, its things picked and dragged, light shown as colour.
import { THREE, CSS2DRenderer, CSS2DObject, OrbitControls, build, dispose, PlaneField, SurfaceField, legendSteps, told, Pointer, ClimbOverlay } from "loamwright-scene";

const VIEWS = { corner: [-0.55, -1.5, 0.75], front: [0, -1, 0.02], left: [-1, -0.02, 0.02], top: [0, -0.02, 1] };
const FLOATS = (text) => new Float32Array(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);
const WHOLES = (text) => new Uint32Array(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);

// Without a graphics card a picture takes a tenth of a second of both cores: fewer are drawn then, with plain edges.
function drawnInSoftware() {
  const probe = document.createElement("canvas").getContext("webgl");
  const told = probe?.getExtension("WEBGL_debug_renderer_info");
  const name = told ? probe.getParameter(told.UNMASKED_RENDERER_WEBGL) : "";
  probe?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

export default {
  props: { data: Object, words: Object },
  template: `
  <section class="scene" aria-label="The habitat in three dimensions">
    <div class="scene-tools" role="toolbar" aria-label="What is shown">
      <div class="set" role="group" aria-label="Look from"><span class="small">from</span>
        <button v-for="(v, name) in views" :key="name" type="button" @click="look(name)">{{ name }}</button>
      </div>
      <div class="set" role="group" aria-label="Panels shown"><span class="small">panels</span>
        <button v-for="side in ['front','left','right','top','back']" :key="side" type="button"
          :aria-pressed="!hidden.includes(side)" @click="toggle(side)"><span aria-hidden="true">{{ hidden.includes(side) ? '☐' : '☑' }}</span> {{ side }}</button>
      </div>
      <div class="set" role="group" aria-label="Moving">
        <button type="button" :aria-pressed="upright" @click="upright = !upright" title="Drag up and down instead of level (or hold Shift)">up/down</button>
        <label class="small">snap <select v-model.number="snap" aria-label="Snap to">
          <option v-for="s in words.snaps" :key="s[0]" :value="s[0]">{{ s[1] }}</option></select></label>
        <button type="button" :aria-pressed="names" @click="names = !names">names</button>
        <button type="button" :aria-pressed="beams" @click="beams = !beams">beams</button>
        <button type="button" @click="screenshot">picture</button>
      </div>
    </div>
    <div class="scene-stage" :class="{still}" ref="stage" tabindex="0" role="application" @keydown="key"
      :aria-label="'Scene. Arrow keys turn the view, plus and minus zoom. With something picked: hold Control and use the arrow keys, page up and page down to move it by one snap step.' + (picked ? ' Picked: ' + pickedName() : '')">
      <canvas ref="canvas"></canvas>
      <div ref="over" class="scene-labels" aria-hidden="true"></div>
      <div v-if="tip" class="scene-tip" :style="{left: tip.x + 14 + 'px', top: tip.y + 10 + 'px'}" aria-hidden="true">
        <b v-if="tip.value">{{ tip.value }}</b> <span>{{ tip.name }}</span></div>
      <div v-if="lost" class="scene-lost"><p>This browser shows no 3D here. Everything can be done in the list and the form.</p></div>
      <div v-if="legend" class="legend" :aria-label="'Legend: ' + legend.title">
        <div class="legend-title">{{ legend.title }}</div>
        <div class="legend-rows"><div v-for="(s, n) in steps" :key="n" class="legend-row">
          <i :style="{background: s.color}"></i><span>{{ round(s.from) }}{{ s.last ? "+" : "" }}</span>
          <em v-if="s.name">{{ s.name }}</em></div></div>
        <div class="legend-note">{{ legend.note }}</div>
      </div>
      <button v-if="touch" type="button" class="turn" :aria-pressed="!still" @click="still = !still">{{ still ? "turn and move" : "done turning" }}</button>
      <div v-if="moving" class="scene-moving" role="status">{{ moving }}<b v-if="saying"> {{ saying }}</b></div>
    </div>
  </section>`,

  data() {
    return { picked: "", labels: {}, views: VIEWS, hidden: ["front"], upright: false, touch: false, still: false, snap: 0.01, names: true, beams: false, tip: null, legend: null, lost: false, moving: "", saying: "" };
  },

  computed: {
    steps() {
      const rows = legendSteps(this.legend.scale);
      for (const [name, first] of this.legend.scale.groups || []) if (rows[first]) rows[first].name = name;
      return rows.slice().reverse().map((r, n) => ({ ...r, last: n === 0 }));
    },
  },

  watch: {
    data() { this.rebuild(); },
    picked() { this.mark(); },
    labels: { deep: true, handler() { this.relabel(); } },
    names() { this.relabel(); },
    beams() { this.mark(); },
    still() { this.raw.orbit.enabled = !this.still; },
    hidden: { deep: true, handler() { this.veil(); } },
  },

  mounted() {
    this.snap = this.words.snaps[1][0];
    // A finger that wants to go down the page must not turn the scene: there it is turned when asked.
    this.touch = matchMedia("(pointer: coarse)").matches;
    try {
      this.slow = drawnInSoftware();
      this.renderer = new THREE.WebGLRenderer({ canvas: this.$refs.canvas, antialias: !this.slow });
    } catch (e) {
      this.lost = true;
      return;
    }
    // Not reactive: three.js objects must stay as they are.
    const raw = (this.raw = {});
    raw.scene = new THREE.Scene();
    raw.camera = new THREE.PerspectiveCamera(32, 1, 0.02, 60);
    raw.camera.up.set(0, 0, 1);
    raw.scene.add(new THREE.HemisphereLight(0xffffff, 0x9a8f7d, 1.7));
    const sun = new THREE.DirectionalLight(0xffffff, 1.5);
    sun.position.set(-1.2, -2.2, 3);
    raw.scene.add(sun);
    raw.labels = new CSS2DRenderer({ element: this.$refs.over });
    raw.orbit = new OrbitControls(raw.camera, this.$refs.canvas);
    raw.orbit.enableDamping = false;
    const size = Math.hypot(...this.data.inside);
    raw.orbit.minDistance = 0.08;
    raw.orbit.maxDistance = 6 * size;
    raw.orbit.addEventListener("change", () => this.draw());
    raw.orbit.addEventListener("start", () => { this.view = ""; });
    this.renderer.setPixelRatio(this.slow ? 1 : Math.min(window.devicePixelRatio, 2));
    raw.pointer = new Pointer({
      camera: raw.camera, canvas: this.$refs.canvas, orbit: raw.orbit, root: () => raw.root, data: () => this.data,
      field: () => raw.field, picked: () => this.picked, snap: () => this.snap, upright: () => this.upright, still: () => this.still,
      emit: (kind, detail) => this.heard(kind, detail),
    });
    raw.watch = new ResizeObserver(() => this.resize());
    raw.watch.observe(this.$refs.stage);
    // The framework sets the theme's class when it has started, or when the machine's theme changes.
    // It also writes the same class again with every message: only another theme asks for a picture.
    raw.theme = new MutationObserver(() => { if (raw.night !== this.night()) { this.paper(); this.draw(); } });
    raw.theme.observe(document.body, { attributes: true, attributeFilter: ["class"] });
    this.paper();
    this.rebuild();
    this.look("corner");
    this.still = this.touch;
    this.$refs.canvas.dataset.ready = "1";
  },

  unmounted() {
    if (!this.raw) return;
    this.raw.watch.disconnect();
    this.raw.theme.disconnect();
    this.clearField();
    this.raw.climb?.dispose();
    dispose(this.raw.root);
    this.raw.orbit.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  },

  methods: {
    round(v) { return +v.toPrecision(3); },
    pickedName() { return this.data.things.find((t) => t.id === this.picked)?.name || ""; },
    night() { return document.body.classList.contains("body--dark"); },
    paper() {
      if (!this.raw) return;
      this.raw.night = this.night();
      this.raw.scene.background = new THREE.Color(this.raw.night ? "#1b211e" : "#eceae0");
    },
    draw() {
      if (!this.renderer || this.raw.asked) return;
      // After an edit the numbers come first: where there is no graphics card a picture takes long.
      const wait = (this.raw.hold || 0) - performance.now();
      if (wait > 0) {
        clearTimeout(this.raw.late);
        this.raw.late = setTimeout(() => this.draw(), wait);
        return;
      }
      this.raw.asked = true;
      requestAnimationFrame(() => {
        this.raw.asked = false;
        this.renderer.render(this.raw.scene, this.raw.camera);
        this.raw.labels.render(this.raw.scene, this.raw.camera);
        this.part();
      });
    },
    part() {
      // Labels that would lie on each other move up, the lowest stays.
      const tags = [...this.$refs.over.children].filter((t) => t.style.display !== "none");
      for (const t of tags) t.style.marginTop = "0px";
      const boxes = tags.map((t) => ({ t, r: t.getBoundingClientRect() })).sort((a, b) => b.r.top - a.r.top);
      const done = [];
      for (const { t, r } of boxes) {
        let up = 0;
        for (let tries = 0; tries < 8; tries++) {
          const hit = done.find((d) => r.left < d.right && r.right > d.left && r.top - up < d.bottom && r.bottom - up > d.top);
          if (!hit) break;
          up = r.bottom - hit.top + 2;
        }
        if (up) t.style.marginTop = `${-up}px`;
        done.push({ left: r.left, right: r.right, top: r.top - up, bottom: r.bottom - up });
      }
    },
    resize() {
      const box = this.$refs.stage.getBoundingClientRect();
      if (!box.width || !box.height) return;
      this.renderer.setSize(box.width, box.height, false);
      this.raw.labels.setSize(box.width, box.height);
      this.raw.camera.aspect = box.width / box.height;
      this.raw.camera.updateProjectionMatrix();
      // A view that nobody has turned yet is fitted to its new frame.
      if (this.view) this.look(this.view); else this.draw();
    },
    rebuild() {
      if (!this.raw) return;
      const old = this.raw.root;
      this.raw.root = build(this.data, old);
      if (!old) this.raw.scene.add(this.raw.root);
      this.moving = "";
      this.relabel();
      this.veil();
      this.mark();
    },
    objects() { return this.raw.root.children; },
    veil() {
      if (!this.raw?.root) return;
      const field = this.raw.field;
      const skin = field instanceof SurfaceField;
      for (const o of this.objects()) {
        const t = o.userData.thing;
        const side = t.side && (t.kind === "panel" || t.kind === "opening" || t.kind === "fan") ? t.side : null;
        // The climbing graph leaves plants out; they would hide it.
        const green = this.raw.climb && (t.kind === "plant" || t.role === "crown");
        o.visible = !green && !(side && this.hidden.includes(side)) && !(skin && (t.kind === "panel" && !t.clear || t.kind === "layer" || t.kind === "piece"));
      }
      if (skin) {
        const gone = new Set();
        for (const t of this.data.things) if (t.kind === "panel" && this.hidden.includes(t.side)) gone.add(t.side);
        for (const s of this.hidden) for (const n of this.data.linings?.[s] || []) gone.add(n);
        field.hide(gone);
      }
      this.draw();
    },
    toggle(side) {
      this.hidden = this.hidden.includes(side) ? this.hidden.filter((s) => s !== side) : [...this.hidden, side];
    },
    relabel() {
      if (!this.raw?.root) return;
      for (const o of this.objects()) {
        const t = o.userData.thing;
        if (t.kind !== "site" && t.kind !== "lamp") continue;
        let tag = o.userData.tag;
        const value = this.labels?.[t.id] || "";
        const wanted = this.names && (t.kind === "lamp" ? t.id === this.picked : t.role !== "crown" || t.id === this.picked);
        if (!wanted) {
          if (tag) { tag.element.remove(); o.remove(tag); o.userData.tag = null; }
          continue;
        }
        if (!tag) {
          const div = document.createElement("div");
          div.className = "tag tag-" + t.kind;
          tag = o.userData.tag = new CSS2DObject(div);
          tag.center.set(0.5, 1.35);
          o.add(tag);
        }
        // Names come from a file: they are set as text, never as markup.
        tag.element.textContent = value ? `${t.name}  ${value}` : t.name;
      }
      this.draw();
    },
    mark() {
      if (!this.raw?.root) return;
      if (this.raw.frame) { this.raw.scene.remove(this.raw.frame); this.raw.frame.geometry.dispose(); this.raw.frame.material.dispose(); this.raw.frame = null; }
      for (const o of this.objects()) {
        const on = o.userData.thing.id === this.picked;
        o.traverse((c) => { if (c.userData.beam) c.visible = on || this.beams; });
        if (on && o.userData.thing.kind !== "panel") {
          const box = new THREE.Box3();
          o.updateWorldMatrix(true, true);
          o.traverse((c) => { if (c.isMesh && !this.within(c)) box.expandByObject(c, false); });
          if (!box.isEmpty()) {
            box.expandByScalar(0.008);
            this.raw.frame = new THREE.Box3Helper(box, new THREE.Color("#d0632c"));
            this.raw.scene.add(this.raw.frame);
          }
        }
      }
      this.relabel();
    },
    within(c) { for (let p = c; p; p = p.parent) if (p.userData.beam) return true; return false; },
    look(name) {
      if (!this.raw) return;
      this.view = name;
      const middle = new THREE.Vector3(...this.data.inside).multiplyScalar(0.5);
      const way = new THREE.Vector3(...VIEWS[name]).normalize();
      this.raw.orbit.target.copy(middle);
      this.raw.camera.position.copy(middle).addScaledVector(way, this.far(way, middle));
      this.raw.orbit.update();
      this.draw();
    },
    // How far away all of the box, and the lamps over it, are in the picture.
    far(way, middle) {
      const [w, d, h] = this.data.inside, camera = this.raw.camera;
      const top = this.data.things.reduce((z, t) => (t.kind === "lamp" && t.at ? Math.max(z, t.at[2] + 0.03) : z), h);
      const side = new THREE.Vector3().crossVectors(way, new THREE.Vector3(0, 0, 1)).normalize();
      const up = new THREE.Vector3().crossVectors(side, way).normalize();
      const tall = Math.tan((camera.fov * Math.PI) / 360) * 0.9, wide = tall * (camera.aspect || 1);
      let far = 0;
      for (const x of [0, w]) for (const y of [0, d]) for (const z of [0, top]) {
        const off = new THREE.Vector3(x, y, z).sub(middle);
        far = Math.max(far, off.dot(way) + Math.max(Math.abs(off.dot(side)) / wide, Math.abs(off.dot(up)) / tall));
      }
      return far;
    },
    heard(kind, detail) {
      if (kind === "hover") {
        if (!detail || (!detail.told && !detail.name)) this.tip = null;
        else {
          const value = detail.told && this.legend ? told(detail.told.value, this.legend.show) : "";
          this.tip = { x: detail.x, y: detail.y, value, name: detail.told?.owner || detail.name };
        }
        return;
      }
      if (kind === "pick") { this.$emit("pick", detail); return; }
      const t = this.data.things.find((x) => x.id === detail.id);
      const at = (t.at || t.from).map((v, n) => v + (detail.by[t.move === "panel" ? { floor: [0, 1], top: [0, 1], front: [0, 2], back: [0, 2], left: [1, 2], right: [1, 2] }[t.side][n] : n] || 0));
      if (kind === "drag") {
        this.tip = null;
        this.moving = t.move === "along" ? `${t.name}: ${Math.round(detail.along * 100)} % along` : `${t.name}: ` + at.map((v, n) => `${"xyz"[n]} ${(v / this.words.unit).toFixed(1)}`).join("  ") + ` ${this.words.edge}`;
        this.draw();
        const now = performance.now();
        if (now - (this.raw.told || 0) > 90) { this.raw.told = now; this.$emit("drag", { id: t.id, at, along: detail.along }); }
        return;
      }
      this.moving = this.saying = "";
      this.$emit("drop", { id: t.id, at, by: detail.by, along: detail.along });
    },
    key(e) {
      if (!this.raw) return;
      const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
      if (e.ctrlKey && this.picked) {
        const by = { ArrowLeft: [-1, 0, 0], ArrowRight: [1, 0, 0], ArrowUp: [0, 1, 0], ArrowDown: [0, -1, 0], PageUp: [0, 0, 1], PageDown: [0, 0, -1] }[e.key];
        if (by) { this.$emit("nudge", { id: this.picked, by: by.map((v) => v * (this.snap || 0.01)) }); e.preventDefault(); }
        return;
      }
      const orbit = this.raw.orbit, off = this.raw.camera.position.clone().sub(orbit.target);
      if (arrows[e.key]) {
        off.applyAxisAngle(new THREE.Vector3(0, 0, 1), -0.12 * arrows[e.key][0]);
        const side = new THREE.Vector3().crossVectors(off, new THREE.Vector3(0, 0, 1)).normalize();
        off.applyAxisAngle(side, 0.12 * arrows[e.key][1]);
      } else if (e.key === "+" || e.key === "=") off.multiplyScalar(0.9);
      else if (e.key === "-") off.multiplyScalar(1.1);
      else if (e.key === "Escape") { this.$emit("pick", null); return; }
      else return;
      e.preventDefault();
      this.view = "";
      off.clampLength(orbit.minDistance, orbit.maxDistance);
      this.raw.camera.position.copy(orbit.target).add(off);
      orbit.update();
      this.draw();
    },

    setPicked(id) { this.picked = id || ""; },
    setLabels(labels) {
      if (this.raw && !this.raw.pointer.drag) this.raw.hold = performance.now() + (this.slow ? 350 : 120);
      this.labels = labels;
    },

    // What is said of the place that a thing is dragged to.
    setSaying(text) { if (this.moving) this.saying = text || ""; },
    // The climbing graph laid over the scene, or none.
    setClimb(data) {
      if (!this.raw) return;
      if (this.raw.climb) { this.raw.scene.remove(this.raw.climb.group); this.raw.climb.dispose(); }
      this.raw.climb = data ? new ClimbOverlay(data, this.data.inside) : null;
      if (data) this.raw.scene.add(this.raw.climb.group);
      this.$refs.canvas.dataset.climb = data ? `${data.links.length} links, ${data.routes.length} ways` : "";
      this.veil();
    },

    // -- fields: called from the server -----------------------------------------------------
    clearField() {
      if (this.raw?.field) {
        this.raw.scene.remove(this.raw.field.mesh);
        this.raw.field.dispose();
        this.raw.field = null;
      }
    },
    setField(field) {
      if (!this.raw) return;
      this.clearField();
      if (!field) { this.legend = null; this.veil(); return; }
      const values = FLOATS(field.values);
      this.raw.field = field.kind === "plane"
        ? new PlaneField({ axis: field.axis, position: field.position, lines: field.lines, values })
        : new SurfaceField({ triangles: FLOATS(field.triangles), patch: WHOLES(field.patch), owner: field.owner, values });
      this.raw.scene.add(this.raw.field.mesh);
      this.paint(field);
      this.veil();
    },
    paint(field) {
      // Other shares, scale or wording for the field that is there.
      if (!this.raw?.field) return;
      this.raw.field.show(field.shares, field.scale, field.show);
      this.legend = { scale: field.scale, show: field.show, title: field.title, note: field.note };
      this.$refs.canvas.dataset.field = field.title;
      this.draw();
    },
    glow(shares) {
      for (const o of this.objects() || []) {
        if (o.userData.thing.kind !== "lamp") continue;
        const n = o.userData.thing.loc[1];
        o.userData.glow.emissiveIntensity = 0.06 + 0.9 * (shares[n] ?? 1) * o.userData.thing.dim;
      }
      this.draw();
    },
    screenshot() {
      if (!this.raw) return;
      this.renderer.render(this.raw.scene, this.raw.camera);
      const from = this.$refs.canvas, c = document.createElement("canvas");
      c.width = from.width; c.height = from.height;
      const g = c.getContext("2d"), k = from.width / from.clientWidth;
      g.drawImage(from, 0, 0);
      g.font = `${13 * k}px sans-serif`;
      g.fillStyle = this.night() ? "#e7ece7" : "#25302b";
      g.fillText(this.words.name, 12 * k, 22 * k);
      if (this.legend) {
        let y = 44 * k;
        g.fillText(this.legend.title, 12 * k, y);
        for (const s of this.steps) {
          y += 17 * k;
          g.fillStyle = s.color; g.fillRect(12 * k, y - 11 * k, 20 * k, 13 * k);
          g.fillStyle = this.night() ? "#e7ece7" : "#25302b";
          g.fillText(`${this.round(s.from)} ${s.name || ""}`, 38 * k, y);
        }
      }
      c.toBlob((blob) => {
        const a = document.createElement("a");
        a.href = URL.createObjectURL(blob);
        a.download = this.words.picture;
        a.click();
        setTimeout(() => URL.revokeObjectURL(a.href), 2000);
      });
    },
    where(id) {
      // Where a thing is on the page, for tests and for guiding the eye.
      const o = this.objects().find((x) => x.userData.thing.id === id);
      if (!o) return null;
      const p = new THREE.Vector3();
      o.getWorldPosition(p);
      p.project(this.raw.camera);
      const box = this.$refs.canvas.getBoundingClientRect();
      return [box.left + ((p.x + 1) / 2) * box.width, box.top + ((1 - p.y) / 2) * box.height];
    },
  },
};
