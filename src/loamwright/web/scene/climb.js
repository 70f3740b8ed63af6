// The climbing graph laid over the scene: places, gaps that are bridged, ways, dead ends.
import { THREE, CSS2DObject } from "nicegui-scene";
import { dispose } from "./things.js";

const UP = new THREE.Vector3(0, 1, 0);
// Over everything: a way leads along the middle of a branch and would be hidden in it.
const over = (color, opacity = 0.95) => new THREE.MeshBasicMaterial({ color, transparent: true, opacity, depthTest: false });

function rod(from, to, radius, material) {
  const a = new THREE.Vector3(...from), way = new THREE.Vector3(...to).sub(a), long = way.length();
  if (long < 1e-4) return null;
  const mesh = new THREE.Mesh(new THREE.CylinderGeometry(radius, radius, long, 8), material);
  mesh.position.copy(a.addScaledVector(way, 0.5));
  mesh.quaternion.setFromUnitVectors(UP, way.normalize());
  return mesh;
}

function dashes(points) {
  // Pieces of a way with gaps between them: a way over the ground is told from others by shape.
  const out = [], dash = 0.03;
  for (let n = 1; n < points.length; n++) {
    const a = new THREE.Vector3(...points[n - 1]), way = new THREE.Vector3(...points[n]).sub(a), long = way.length();
    for (let s = 0; s < long; s += 2 * dash) {
      const end = Math.min(s + dash, long);
      out.push([a.clone().addScaledVector(way, s / long).toArray(), a.clone().addScaledVector(way, end / long).toArray()]);
    }
  }
  return out;
}

// Bright enough before wood and ground, in both themes; the legend beside has the same.
const COLORS = { way: "#55c8ff", gap: "#c3f270", far: "#ff7a59", end: "#ffd23f" };

export class ClimbOverlay {
  constructor(data, inside) {
    this.group = new THREE.Group();
    const way = over(COLORS.way, 0.9), gap = over(COLORS.gap), far = over(COLORS.far);
    const size = Math.min(Math.max(Math.hypot(...inside) / 2, 0.4), 1.4);
    for (const r of data.routes) {
      const parts = r.off ? r.points.slice(1).map((p, n) => [r.points[n], p]) : dashes(r.points);
      for (const [a, b] of parts) this.add(rod(a, b, size * (r.off ? 0.005 : 0.004), way));
    }
    for (const l of data.links) {
      this.add(rod(l.from, l.to, 0.006 * size, l.reached ? gap : far));
      for (const at of [l.from, l.to]) this.add(this.ball(at, 0.01 * size, l.reached ? gap : far));
    }
    for (const s of data.spots) {
      if (s.reached) this.add(this.ball(s.at, 0.02 * size, gap));
      else {
        const mark = new THREE.Mesh(new THREE.OctahedronGeometry(0.034 * size), far);
        mark.position.set(...s.at);
        this.add(mark);
        this.tag(s.at, `${s.name}: out of reach`, "far");
      }
    }
    for (const e of data.ends) {
      const cone = new THREE.Mesh(new THREE.ConeGeometry(0.022 * size, 0.06 * size, 14), over(COLORS.end));
      cone.rotation.x = -Math.PI / 2;
      cone.position.set(e.at[0], e.at[1], e.at[2] + 0.03 * size);
      this.add(cone);
      this.tag(e.at, `dead end: ${e.name}`, "end");
    }
  }

  add(mesh) {
    if (!mesh) return;
    mesh.renderOrder = 6;
    this.group.add(mesh);
  }

  ball(at, radius, material) {
    const mesh = new THREE.Mesh(new THREE.SphereGeometry(radius, 14, 10), material);
    mesh.position.set(...at);
    return mesh;
  }

  tag(at, text, kind) {
    const div = document.createElement("div");
    div.className = "tag tag-" + kind;
    div.textContent = text; // names come from a file: text, never markup
    const tag = new CSS2DObject(div);
    tag.center.set(0.5, 1.9);
    tag.position.set(...at);
    this.group.add(tag);
  }

  dispose() {
    this.group.traverse((o) => o.element?.remove());
    dispose(this.group);
  }
}
