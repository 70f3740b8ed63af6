// From plain data to meshes. Lengths are metres, z is up; the scene uses the habitat's own axes.
import { THREE } from "nicegui-scene";

export const SIDES = {
  // side: [fixed axis, at the far end, first free axis, second free axis]
  floor: [2, false, 0, 1],
  top: [2, true, 0, 1],
  front: [1, false, 0, 2],
  back: [1, true, 0, 2],
  left: [0, false, 1, 2],
  right: [0, true, 1, 2],
};

const UP = new THREE.Vector3(0, 0, 1);
const vec = (a) => new THREE.Vector3(a[0], a[1], a[2]);

function solid(color, more = {}) {
  return new THREE.MeshStandardMaterial({ color, roughness: 0.85, metalness: 0.0, ...more });
}

function between(from, to, radius, material, open = false) {
  const a = vec(from), b = vec(to), way = b.clone().sub(a);
  const shape = new THREE.CylinderGeometry(radius, radius, way.length(), 28, 1, open);
  const mesh = new THREE.Mesh(shape, material);
  mesh.position.copy(a.add(b).multiplyScalar(0.5));
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), way.normalize());
  return mesh;
}

function onPanel(side, uv, inside, off = 0) {
  const [axis, far, i, j] = SIDES[side];
  const out = [0, 0, 0];
  out[axis] = far ? inside[axis] + off : -off;
  out[i] = uv[0];
  out[j] = uv[1];
  return out;
}

function panel(thing, data, holes) {
  const [axis, far, i, j] = SIDES[thing.side];
  const inside = data.inside;
  const shape = new THREE.Shape();
  const w = inside[i], h = inside[j];
  shape.moveTo(0, 0).lineTo(w, 0).lineTo(w, h).lineTo(0, h).closePath();
  for (const hole of holes.filter((o) => o.side === thing.side)) {
    const x0 = Math.max(hole.at[0] - hole.size[0] / 2, 0.001), x1 = Math.min(hole.at[0] + hole.size[0] / 2, w - 0.001);
    const y0 = Math.max(hole.at[1] - hole.size[1] / 2, 0.001), y1 = Math.min(hole.at[1] + hole.size[1] / 2, h - 0.001);
    if (x1 <= x0 || y1 <= y0) continue;
    const path = new THREE.Path();
    path.moveTo(x0, y0).lineTo(x0, y1).lineTo(x1, y1).lineTo(x1, y0).closePath();
    shape.holes.push(path);
  }
  const group = new THREE.Group();
  const sheet = (thick, color, clear, start) => {
    const geometry = new THREE.ExtrudeGeometry(shape, { depth: thick, bevelEnabled: false });
    // Shape x, y, extrusion -> the two free axes and the outward normal.
    const m = new THREE.Matrix4();
    const u = new THREE.Vector3().setComponent(i, 1), v = new THREE.Vector3().setComponent(j, 1);
    const n = new THREE.Vector3().setComponent(axis, far ? 1 : -1);
    m.makeBasis(u, v, n);
    const at = new THREE.Vector3().setComponent(axis, far ? inside[axis] + start : -start);
    m.setPosition(at);
    geometry.applyMatrix4(m);
    const material = clear
      ? new THREE.MeshStandardMaterial({ color: 0xbfd8dc, transparent: true, opacity: 0.14, roughness: 0.1, depthWrite: false, side: THREE.DoubleSide })
      : solid(color, { side: THREE.DoubleSide });
    const mesh = new THREE.Mesh(geometry, material);
    group.add(mesh);
    const edges = new THREE.LineSegments(
      new THREE.EdgesGeometry(geometry, 30),
      new THREE.LineBasicMaterial({ color: 0x55625b, transparent: true, opacity: clear ? 0.75 : 0.5 }),
    );
    group.add(edges);
  };
  sheet(thing.thick, thing.color, thing.clear, 0);
  if (thing.lining > 0) sheet(thing.lining, thing.lining_color || thing.color, false, -thing.lining);
  return group;
}

let meshTexture = null;
function cover(kind) {
  if (kind === "open") return new THREE.MeshBasicMaterial({ transparent: true, opacity: 0.02, depthWrite: false, side: THREE.DoubleSide });
  if (kind !== "mesh")
    return new THREE.MeshStandardMaterial({ color: 0xcfe3ea, transparent: true, opacity: 0.25, depthWrite: false, side: THREE.DoubleSide });
  if (!meshTexture) {
    const c = document.createElement("canvas");
    c.width = c.height = 32;
    const g = c.getContext("2d");
    g.strokeStyle = "#5a646a";
    g.lineWidth = 4;
    g.strokeRect(0, 0, 32, 32);
    meshTexture = new THREE.CanvasTexture(c);
    meshTexture.wrapS = meshTexture.wrapT = THREE.RepeatWrapping;
  }
  const t = meshTexture.clone();
  t.needsUpdate = true;
  return new THREE.MeshBasicMaterial({ map: t, transparent: true, depthWrite: false, side: THREE.DoubleSide });
}

function opening(thing, data) {
  const [axis, , i, j] = SIDES[thing.side];
  const material = cover(thing.cover);
  if (material.map) material.map.repeat.set(thing.size[0] / 0.02, thing.size[1] / 0.02);
  const group = new THREE.Group();
  const mesh = new THREE.Mesh(new THREE.PlaneGeometry(thing.size[0], thing.size[1]), material);
  const m = new THREE.Matrix4();
  const u = new THREE.Vector3().setComponent(i, 1), v = new THREE.Vector3().setComponent(j, 1);
  m.makeBasis(u, v, new THREE.Vector3().crossVectors(u, v));
  mesh.applyMatrix4(m);
  group.add(mesh);
  const rim = new THREE.LineSegments(new THREE.EdgesGeometry(mesh.geometry), new THREE.LineBasicMaterial({ color: 0x3f4a44 }));
  rim.applyMatrix4(m);
  group.add(rim);
  group.position.copy(vec(onPanel(thing.side, thing.at, data.inside)));
  return group;
}

function seeded(seed) {
  let s = seed * 2654435761 + 12345;
  return () => ((s = (s * 1664525 + 1013904223) >>> 0) / 4294967296);
}

function leafShape(narrow) {
  const s = new THREE.Shape();
  s.moveTo(0, 0);
  s.quadraticCurveTo(narrow, 0.35, 0, 1);
  s.quadraticCurveTo(-narrow, 0.35, 0, 0);
  return new THREE.ShapeGeometry(s, 5);
}

function plant(thing, number) {
  const group = new THREE.Group();
  const random = seeded(number + 3);
  const half = thing.half, middle = vec(thing.middle), foot = vec(thing.at);
  const rosette = /rosette|epiphyte|fern|tuft|grass|clump/.test(thing.form || "");
  const size = Math.cbrt(half[0] * half[1] * half[2]);
  const count = Math.round(Math.min(60 + 90 * thing.dense, 190));
  const hue = 0.24 + 0.1 * random();
  const leaves = new THREE.InstancedMesh(
    leafShape(rosette ? 0.16 : 0.3),
    new THREE.MeshStandardMaterial({ color: 0xffffff, roughness: 0.7, side: THREE.DoubleSide }),
    count,
  );
  const one = new THREE.Object3D(), color = new THREE.Color();
  for (let n = 0; n < count; n++) {
    const a = 6.2832 * random(), z = 2 * random() - 1, r = Math.sqrt(1 - z * z);
    const out = new THREE.Vector3(r * Math.cos(a), r * Math.sin(a), z);
    if (rosette) {
      one.position.copy(foot).add(new THREE.Vector3(out.x * half[0] * 0.12, out.y * half[1] * 0.12, half[2] * 0.25 * random()));
      const lean = new THREE.Vector3(out.x * half[0], out.y * half[1], half[2] * (0.3 + 1.5 * random()));
      one.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), lean.clone().normalize());
      one.rotateY(6.28 * random());
      const far = Math.min(lean.length(), 2 * half[2] + half[0]);
      one.scale.setScalar(far * (0.75 + 0.25 * random()));
    } else {
      const depth = 0.55 + 0.45 * Math.cbrt(random());
      one.position.set(middle.x + out.x * half[0] * depth, middle.y + out.y * half[1] * depth, middle.z + out.z * half[2] * depth);
      one.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), new THREE.Vector3(out.x, out.y, out.z * 0.5 - 0.35).normalize());
      one.rotateY(6.28 * random());
      one.scale.setScalar(size * (0.34 + 0.24 * random()));
    }
    one.updateMatrix();
    leaves.setMatrixAt(n, one.matrix);
    color.setHSL(hue + 0.03 * (random() - 0.5), 0.36 + 0.12 * random(), 0.26 + 0.16 * random());
    leaves.setColorAt(n, color);
  }
  group.add(leaves);
  if (!rosette) {
    const wood = solid("#5d4a33");
    for (let n = 0; n < 4; n++) {
      const tip = [middle.x + half[0] * 0.6 * (random() - 0.5), middle.y + half[1] * 0.6 * (random() - 0.5), middle.z + half[2] * (random() - 0.2)];
      group.add(between(thing.at, tip, Math.max(0.003, size * 0.02), wood));
    }
  }
  // The crown as the light meets it; unseen, but it can be picked.
  const crown = new THREE.Mesh(
    new THREE.SphereGeometry(1, 20, 14),
    new THREE.MeshBasicMaterial({ transparent: true, opacity: 0, depthWrite: false }),
  );
  crown.scale.set(half[0], half[1], half[2]);
  crown.position.copy(middle);
  group.add(crown);
  return group;
}

function facing(aim, along) {
  const z = vec(aim).negate().normalize();
  let x = vec(along);
  x.addScaledVector(z, -x.dot(z));
  if (x.length() < 1e-6) x = Math.abs(z.x) < 0.9 ? new THREE.Vector3(1, 0, 0) : new THREE.Vector3(0, 1, 0);
  x.normalize();
  return new THREE.Matrix4().makeBasis(x, new THREE.Vector3().crossVectors(z, x), z);
}

function lamp(thing) {
  const group = new THREE.Group();
  const glow = new THREE.MeshStandardMaterial({ color: thing.color, emissive: thing.color, emissiveIntensity: 0.9, roughness: 0.5 });
  const body = solid("#49524d", { roughness: 0.5 });
  if (thing.shape === "tube") {
    const tube = new THREE.Mesh(new THREE.CylinderGeometry(thing.round / 2, thing.round / 2, thing.long, 20), glow);
    tube.rotation.z = Math.PI / 2;
    group.add(tube);
    if (thing.reflector) {
      const hood = new THREE.Mesh(new THREE.BoxGeometry(thing.long, thing.wide, 0.008), body);
      hood.position.z = thing.round / 2 + 0.008;
      group.add(hood);
    }
  } else if (thing.shape === "spot" || (!thing.long && thing.shape !== "bar")) {
    const r = Math.max(thing.round / 2, 0.02);
    const bulb = new THREE.Mesh(new THREE.CylinderGeometry(r * 0.45, r, r * 1.6, 24), body);
    bulb.rotation.x = Math.PI / 2;
    bulb.position.z = r * 0.8;
    const mouth = new THREE.Mesh(new THREE.CircleGeometry(r * 0.95, 24), glow);
    mouth.rotation.x = Math.PI;
    mouth.position.z = -0.002;
    group.add(bulb, mouth);
  } else {
    const long = thing.long || 0.1, wide = thing.wide || 0.05;
    const case_ = new THREE.Mesh(new THREE.BoxGeometry(long, wide, 0.02), body);
    case_.position.z = 0.012;
    const mouth = new THREE.Mesh(new THREE.BoxGeometry(long * 0.97, wide * 0.85, 0.004), glow);
    group.add(case_, mouth);
  }
  if (thing.guard) {
    const size = Math.max(thing.long, thing.round, 0.08) + 0.05;
    const deep = Math.max(thing.wide, thing.round) + 0.06;
    const cage = new THREE.LineSegments(
      new THREE.WireframeGeometry(new THREE.BoxGeometry(size, deep, 0.08, Math.min(Math.ceil(size / 0.04), 30), 3, 2)),
      new THREE.LineBasicMaterial({ color: 0x6b7570, transparent: true, opacity: 0.35 }),
    );
    cage.position.z = 0.01;
    group.add(cage);
  }
  const angle = thing.beam > 0 ? Math.min(thing.beam, 2.6) : 1.9;
  const reach = 0.55;
  const beam = new THREE.Mesh(
    thing.shape === "spot" || !thing.long
      ? new THREE.ConeGeometry(Math.tan(angle / 2) * reach, reach, 36, 1, true)
      : new THREE.CylinderGeometry(0.02, Math.tan(angle / 2) * reach * 0.6, reach, 4, 1, true),
    new THREE.MeshBasicMaterial({ color: thing.color, transparent: true, opacity: 0.1, depthWrite: false, side: THREE.DoubleSide }),
  );
  beam.rotation.x = Math.PI / 2;
  beam.position.z = -reach / 2;
  if (thing.long && thing.shape !== "spot") {
    beam.rotation.set(Math.PI / 2, Math.PI / 4, 0, "XYZ");
    beam.scale.set(1, 1, 1);
    const holder = new THREE.Group();
    holder.add(beam);
    holder.scale.set(Math.max(thing.long / 0.5, 1), 1, 1);
    holder.userData.beam = true;
    holder.visible = false;
    group.add(holder);
  } else {
    beam.userData.beam = true;
    beam.visible = false;
    group.add(beam);
  }
  group.setRotationFromMatrix(facing(thing.aim, thing.along));
  group.position.copy(vec(thing.at));
  group.userData.glow = glow;
  return group;
}

function fan(thing, data) {
  const [axis, far] = SIDES[thing.side];
  const group = new THREE.Group();
  const r = thing.wide / 2;
  const ring = new THREE.Mesh(new THREE.TorusGeometry(r, r * 0.1, 10, 36), solid("#39423d"));
  group.add(ring);
  for (let n = 0; n < 5; n++) {
    const blade = new THREE.Mesh(new THREE.PlaneGeometry(r * 0.85, r * 0.34), solid("#707a74", { side: THREE.DoubleSide }));
    const a = (n * 6.2832) / 5;
    blade.position.set(Math.cos(a) * r * 0.5, Math.sin(a) * r * 0.5, 0);
    blade.rotation.set(0.5, 0, a);
    group.add(blade);
  }
  const normal = new THREE.Vector3().setComponent(axis, far ? -1 : 1);
  group.quaternion.setFromUnitVectors(UP, normal);
  group.position.copy(vec(onPanel(thing.side, thing.at, data.inside)));
  const way = new THREE.Vector3(0, 0, thing.inward ? 1 : -1);
  const arrow = new THREE.ArrowHelper(way, new THREE.Vector3(0, 0, thing.inward ? 0.02 : 0.14), 0.12, 0x2f7f95, 0.05, 0.035);
  group.add(arrow);
  return group;
}

function nozzle(thing) {
  const group = new THREE.Group();
  const body = new THREE.Mesh(new THREE.ConeGeometry(0.012, 0.035, 16), solid("#2f5e78"));
  body.rotation.x = Math.PI / 2;
  group.add(body);
  const reach = thing.reach, wide = Math.min(Math.tan(Math.min(thing.cone, 2.6) / 2) * reach, 0.8);
  const spray = new THREE.Group();
  const cone = new THREE.Mesh(
    new THREE.ConeGeometry(wide, reach, 36, 1, true),
    new THREE.MeshBasicMaterial({ color: 0x4f93b8, transparent: true, opacity: 0.09, depthWrite: false, side: THREE.DoubleSide }),
  );
  cone.rotation.x = Math.PI / 2;
  cone.position.z = -reach / 2;
  const foot = new THREE.Mesh(
    new THREE.RingGeometry(wide * 0.94, wide, 48),
    new THREE.MeshBasicMaterial({ color: 0x3b86ad, transparent: true, opacity: 0.55, depthWrite: false, side: THREE.DoubleSide }),
  );
  foot.position.z = -reach + 0.004;
  spray.add(cone, foot);
  spray.userData.beam = true;
  spray.visible = false;
  group.add(spray);
  group.setRotationFromMatrix(facing(thing.aim, [1, 0, 0]));
  group.position.copy(vec(thing.at));
  return group;
}

function piece(thing) {
  const material = solid(thing.color);
  if (thing.shape === "branch") return between(thing.from, thing.to, thing.wide / 2, material);
  if (thing.shape === "tube") {
    const group = new THREE.Group();
    const both = solid(thing.color, { side: THREE.DoubleSide });
    group.add(between(thing.from, thing.to, thing.wide / 2, both, true));
    group.add(between(thing.from, thing.to, thing.wide / 2 - thing.wall, both, true));
    const a = vec(thing.from), b = vec(thing.to), way = b.clone().sub(a).normalize();
    for (const end of [a, b]) {
      const ring = new THREE.Mesh(new THREE.RingGeometry(thing.wide / 2 - thing.wall, thing.wide / 2, 32), both);
      ring.position.copy(end);
      ring.quaternion.setFromUnitVectors(UP, way);
      group.add(ring);
    }
    return group;
  }
  if (thing.shape === "mesh") {
    const shape = new THREE.BufferGeometry();
    shape.setAttribute("position", new THREE.Float32BufferAttribute(thing.corners, 3));
    shape.setIndex(thing.faces);
    shape.computeVertexNormals();
    return new THREE.Mesh(shape, solid(thing.color, { side: THREE.DoubleSide }));
  }
  const size = thing.size;
  const mesh = thing.shape === "rock"
    ? new THREE.Mesh(new THREE.SphereGeometry(0.5, 28, 20), material)
    : new THREE.Mesh(new THREE.BoxGeometry(1, 1, 1), material);
  mesh.scale.set(size[0], size[1], size[2]);
  mesh.position.set(thing.at[0], thing.at[1], thing.at[2] + size[2] / 2);
  return mesh;
}

function layer(thing) {
  const high = Math.max(thing.to - thing.from, 0.001);
  const mesh = new THREE.Mesh(
    new THREE.BoxGeometry(thing.high[0] - thing.low[0], thing.high[1] - thing.low[1], high),
    solid(thing.color),
  );
  mesh.position.set((thing.low[0] + thing.high[0]) / 2, (thing.low[1] + thing.high[1]) / 2, (thing.from + thing.to) / 2);
  return mesh;
}

function bowl(thing) {
  const mesh = new THREE.Mesh(
    new THREE.BoxGeometry(thing.size[0], thing.size[1], Math.max(thing.deep * 0.4, 0.01)),
    new THREE.MeshStandardMaterial({ color: "#4d8aa0", roughness: 0.15, transparent: true, opacity: 0.85 }),
  );
  mesh.position.set(thing.at[0], thing.at[1], thing.at[2] + 0.005);
  return mesh;
}

const SITE_COLORS = { basking: "#d0632c", perch: "#8a6f2f", hide: "#5b5f8f", retreat: "#5b5f8f", laying: "#a0527d", probe: "#3a7a86", crown: "#4c7a3a" };
function site(thing) {
  const group = new THREE.Group();
  const ball = new THREE.Mesh(
    new THREE.SphereGeometry(0.014, 18, 14),
    new THREE.MeshStandardMaterial({ color: SITE_COLORS[thing.role] || "#3a7a86", emissive: SITE_COLORS[thing.role] || "#3a7a86", emissiveIntensity: 0.35, depthTest: false }),
  );
  ball.renderOrder = 5;
  const halo = new THREE.Mesh(
    new THREE.SphereGeometry(0.028, 12, 10),
    new THREE.MeshBasicMaterial({ transparent: true, opacity: 0.0, depthWrite: false }),
  );
  group.add(ball, halo);
  group.position.copy(vec(thing.at));
  return group;
}

const MAKERS = { panel, opening, layer, piece, plant, lamp, fan, nozzle, bowl, site };

export function build(data, old) {
  // Things that are as they were keep their meshes: moving a lamp makes that lamp anew and nothing else.
  const root = old || new THREE.Group();
  const known = new Map((old ? [...old.children] : []).map((o) => [o.userData.key, o]));
  const holes = data.things.filter((t) => t.kind === "opening");
  data.things.forEach((thing, number) => {
    const key = JSON.stringify([thing, thing.kind === "panel" ? [data.inside, holes.filter((h) => h.side === thing.side)] : thing.side ? data.inside : 0]);
    const same = known.get(key);
    if (same) {
      known.delete(key);
      same.userData.thing = thing;
      return;
    }
    const made = thing.kind === "panel" ? panel(thing, data, holes) : MAKERS[thing.kind](thing, thing.kind === "plant" ? number : data);
    made.userData.thing = thing;
    made.userData.key = key;
    made.userData.home = made.position.clone();
    root.add(made);
  });
  for (const gone of known.values()) {
    gone.traverse((o) => o.element?.remove());
    root.remove(gone);
    dispose(gone);
  }
  for (const o of root.children) o.position.copy(o.userData.home);
  return root;
}

export function dispose(root) {
  root.traverse((o) => {
    o.geometry?.dispose();
    for (const m of [].concat(o.material || [])) {
      if (m.map && m.map !== meshTexture) m.map.dispose();
      m.dispose();
    }
    if (o.isInstancedMesh) o.dispose();
  });
}
