// Values as colour: on a plane through the air, and on the surfaces.
import { THREE } from "nicegui-scene";

const FINE = 4; // drawn points between two computed ones

export function told(value, show) {
  if (!Number.isFinite(value)) return "–";
  const v = value * show.factor + (show.offset || 0);
  const size = Math.abs(v);
  const digits = size >= 100 ? 0 : size >= 10 ? 1 : 2;
  return `${show.before || ""}${v.toFixed(show.digits ?? digits)}${show.unit ? " " + show.unit : ""}`;
}

export function legendSteps(scale) {
  return scale.colors.map((color, i) => ({ color, from: scale.edges[i], to: scale.edges[i + 1] }));
}

function painter(scale) {
  // Steps of colour; ``scale.edges`` are in the shown unit.
  const colors = scale.colors.map((c) => new THREE.Color(c).convertLinearToSRGB());
  const raw = scale.colors.map((c) => [1, 3, 5].map((i) => parseInt(c.slice(i, i + 2), 16)));
  const edges = scale.edges;
  return (v) => {
    let i = edges.length - 2;
    while (i > 0 && v < edges[i]) i--;
    return raw[Math.min(i, raw.length - 1)] || [0, 0, 0, colors];
  };
}

function mix(rows, shares, size) {
  // Sum of rows (L, size), each by its share.
  const out = new Float32Array(size);
  for (let k = 0; k < shares.length; k++) {
    const s = shares[k];
    if (!s && k > 0) {
      // A solid is a solid under any lamp: keep its not-a-number.
      continue;
    }
    const base = k * size;
    for (let n = 0; n < size; n++) out[n] += s * rows[base + n];
  }
  return out;
}

export class PlaneField {
  // data: {axis, position, lines: [u, v], values: Float32Array (L, U*V)}
  constructor(data) {
    this.data = data;
    this.u = data.lines[0];
    this.v = data.lines[1];
    const w = (this.u.length - 1) * FINE + 1, h = (this.v.length - 1) * FINE + 1;
    this.size = [w, h];
    this.pixels = new Uint8Array(w * h * 4);
    this.texture = new THREE.DataTexture(this.pixels, w, h);
    this.texture.colorSpace = THREE.SRGBColorSpace;
    this.texture.magFilter = this.texture.minFilter = THREE.LinearFilter;
    const free = [0, 1, 2].filter((k) => "xyz"[k] !== data.axis);
    this.free = free;
    const step = (line) => line[1] - line[0];
    const wide = this.u[this.u.length - 1] - this.u[0] + step(this.u) / FINE;
    const tall = this.v[this.v.length - 1] - this.v[0] + step(this.v) / FINE;
    const geometry = new THREE.PlaneGeometry(wide, tall);
    const a = new THREE.Vector3().setComponent(free[0], 1), b = new THREE.Vector3().setComponent(free[1], 1);
    const m = new THREE.Matrix4().makeBasis(a, b, new THREE.Vector3().crossVectors(a, b));
    geometry.applyMatrix4(m);
    this.mesh = new THREE.Mesh(
      geometry,
      new THREE.MeshBasicMaterial({ map: this.texture, transparent: true, opacity: 0.92, side: THREE.DoubleSide, toneMapped: false }),
    );
    const at = new THREE.Vector3();
    at.setComponent("xyz".indexOf(data.axis), data.position);
    at.setComponent(free[0], (this.u[0] + this.u[this.u.length - 1]) / 2);
    at.setComponent(free[1], (this.v[0] + this.v[this.v.length - 1]) / 2);
    this.mesh.position.copy(at);
    this.mesh.userData.field = this;
    this.mesh.renderOrder = 2;
  }

  grid(i, j) {
    return this.total[i * this.v.length + j];
  }

  show(shares, scale, show) {
    this.total = mix(this.data.values, shares, this.u.length * this.v.length);
    const paint = painter(scale);
    const [w, h] = this.size;
    for (let y = 0; y < h; y++) {
      const fj = y / FINE, j0 = Math.min(Math.floor(fj), this.v.length - 2), tj = fj - j0;
      for (let x = 0; x < w; x++) {
        const fi = x / FINE, i0 = Math.min(Math.floor(fi), this.u.length - 2), ti = fi - i0;
        const value = this.blend(i0, j0, ti, tj);
        const p = (y * w + x) * 4;
        if (Number.isNaN(value)) {
          this.pixels[p + 3] = 0;
          continue;
        }
        const c = paint(value * show.factor + (show.offset || 0));
        this.pixels[p] = c[0];
        this.pixels[p + 1] = c[1];
        this.pixels[p + 2] = c[2];
        this.pixels[p + 3] = 255;
      }
    }
    this.texture.needsUpdate = true;
  }

  blend(i, j, ti, tj) {
    const corners = [[i, j, (1 - ti) * (1 - tj)], [i + 1, j, ti * (1 - tj)], [i, j + 1, (1 - ti) * tj], [i + 1, j + 1, ti * tj]];
    let sum = 0, weight = 0;
    for (const [a, b, w] of corners) {
      const v = this.grid(a, b);
      if (!Number.isNaN(v)) {
        sum += w * v;
        weight += w;
      }
    }
    return weight > 0.45 ? sum / weight : NaN;
  }

  at(point) {
    const line = (l, x) => ((x - l[0]) / (l[l.length - 1] - l[0])) * (l.length - 1);
    const fi = line(this.u, point.getComponent(this.free[0])), fj = line(this.v, point.getComponent(this.free[1]));
    const i = Math.min(Math.max(Math.floor(fi), 0), this.u.length - 2), j = Math.min(Math.max(Math.floor(fj), 0), this.v.length - 2);
    return this.blend(i, j, Math.min(Math.max(fi - i, 0), 1), Math.min(Math.max(fj - j, 0), 1));
  }

  dispose() {
    this.texture.dispose();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

export class SurfaceField {
  // data: {triangles: Float32Array (T*9), patch: Uint32Array (T), owner: [P], values: Float32Array (L, P)}
  constructor(data) {
    this.data = data;
    this.patches = data.owner.length;
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(data.triangles, 3));
    this.colors = new Uint8Array(data.patch.length * 9);
    geometry.setAttribute("color", new THREE.BufferAttribute(this.colors, 3, true));
    this.mesh = new THREE.Mesh(
      geometry,
      new THREE.MeshBasicMaterial({ vertexColors: true, side: THREE.FrontSide, toneMapped: false, polygonOffset: true, polygonOffsetFactor: -2, polygonOffsetUnits: -2 }),
    );
    this.mesh.userData.field = this;
    this.smooth();
  }

  smooth() {
    // Corners that lie on one place and face one way share their patches' values.
    const { triangles, patch } = this.data;
    const where = new Map();
    this.corner = new Uint32Array(patch.length * 3);
    const groups = [];
    const a = new THREE.Vector3(), b = new THREE.Vector3(), c = new THREE.Vector3();
    for (let t = 0; t < patch.length; t++) {
      a.fromArray(triangles, t * 9);
      b.fromArray(triangles, t * 9 + 3).sub(a);
      c.fromArray(triangles, t * 9 + 6).sub(a);
      b.cross(c).normalize();
      const way = `${Math.round(b.x * 2)},${Math.round(b.y * 2)},${Math.round(b.z * 2)},${this.data.owner[patch[t]]}`;
      for (let k = 0; k < 3; k++) {
        const o = t * 9 + k * 3;
        const key = `${Math.round(triangles[o] * 500)},${Math.round(triangles[o + 1] * 500)},${Math.round(triangles[o + 2] * 500)},${way}`;
        let g = where.get(key);
        if (g === undefined) {
          g = groups.length;
          groups.push(new Set());
          where.set(key, g);
        }
        groups[g].add(patch[t]);
        this.corner[t * 3 + k] = g;
      }
    }
    this.groups = groups.map((s) => [...s]);
  }

  show(shares, scale, show) {
    this.total = mix(this.data.values, shares, this.patches);
    const paint = painter(scale);
    const color = new THREE.Color();
    const shades = this.groups.map((g) => {
      let sum = 0;
      for (const p of g) sum += this.total[p];
      const c = paint((sum / g.length) * show.factor + (show.offset || 0));
      color.setRGB(c[0] / 255, c[1] / 255, c[2] / 255, THREE.SRGBColorSpace);
      return [color.r * 255, color.g * 255, color.b * 255];
    });
    for (let n = 0; n < this.corner.length; n++) this.colors.set(shades[this.corner[n]], n * 3);
    this.mesh.geometry.attributes.color.needsUpdate = true;
  }

  hide(hidden) {
    // Leave out what belongs to hidden panels.
    const { patch, owner } = this.data;
    const keep = [];
    for (let t = 0; t < patch.length; t++) if (!hidden.has(owner[patch[t]])) keep.push(t * 3, t * 3 + 1, t * 3 + 2);
    this.mesh.geometry.setIndex(keep);
  }

  atFace(hit) {
    const first = this.mesh.geometry.index ? this.mesh.geometry.index.getX(hit.faceIndex * 3) : hit.faceIndex * 3;
    const patch = this.data.patch[Math.floor(first / 3)];
    return { value: this.total[patch], owner: this.data.owner[patch] };
  }

  dispose() {
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}
