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

export class ClimbOverlay {
  constructor(data, night) {
    this.group = new THREE.Group();
    const color = night ? { way: "#8cc7dc", gap: "#7fc79e", far: "#f2a37e", end: "#e6c067" } : { way: "#1f5f78", gap: "#2f6b4f", far: "#9a3412", end: "#b07800" };
    const way = over(color.way, 0.8), gap = over(color.gap), far = over(color.far);
    for (const r of data.routes) {
      const parts = r.off ? r.points.slice(1).map((p, n) => [r.points[n], p]) : dashes(r.points);
      for (const [a, b] of parts) this.add(rod(a, b, r.off ? 0.0028 : 0.0022, way));
    }
    for (const l of data.links) {
      this.add(rod(l.from, l.to, 0.005, l.reached ? gap : far));
      for (const at of [l.from, l.to]) this.add(this.ball(at, 0.0075, l.reached ? gap : far));
    }
    for (const s of data.spots) {
      if (s.reached) this.add(this.ball(s.at, 0.017, gap));
      else {
        const mark = new THREE.Mesh(new THREE.OctahedronGeometry(0.028), far);
        mark.position.set(...s.at);
        this.add(mark);
        this.tag(s.at, `${s.name}: out of reach`, "far");
      }
    }
    for (const e of data.ends) {
      const cone = new THREE.Mesh(new THREE.ConeGeometry(0.018, 0.05, 14), over(color.end));
      cone.rotation.x = -Math.PI / 2;
      cone.position.set(e.at[0], e.at[1], e.at[2] + 0.03);
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
