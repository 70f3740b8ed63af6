// Picking and dragging: the ray under the pointer, the plane a thing moves on, and snapping.
import { THREE } from "nicegui-scene";
import { SIDES } from "./things.js";

export class Pointer {
  // view: {camera, canvas, root(), data(), field(), orbit, picked(), emit(kind, detail), snap(), upright()}
  constructor(view) {
    this.view = view;
    this.ray = new THREE.Raycaster();
    this.ray.params.Line = { threshold: 0.004 };
    this.at = new THREE.Vector2();
    this.drag = null;
    const c = view.canvas;
    c.addEventListener("pointerdown", (e) => this.down(e));
    c.addEventListener("pointermove", (e) => this.move(e));
    c.addEventListener("pointerup", (e) => this.up(e));
    c.addEventListener("pointercancel", (e) => this.up(e));
    c.addEventListener("pointerleave", () => view.emit("hover", null));
  }

  aim(event) {
    const box = this.view.canvas.getBoundingClientRect();
    this.at.set(((event.clientX - box.left) / box.width) * 2 - 1, -((event.clientY - box.top) / box.height) * 2 + 1);
    this.ray.setFromCamera(this.at, this.view.camera);
  }

  things() {
    // What the pointer meets, front to back; see-through panes and covers let it pass to what is behind.
    const hits = this.ray.intersectObjects(this.view.root().children.filter((o) => o.visible), true);
    const found = [];
    for (const hit of hits) {
      let o = hit.object, shown = true, beam = false;
      let thing = null;
      while (o) {
        if (o.visible === false) shown = false;
        if (o.userData.beam) beam = true;
        if (o.userData.thing) thing = o;
        o = o.parent;
      }
      if (shown && !beam && thing) found.push({ hit, object: thing, thing: thing.userData.thing });
    }
    return found;
  }

  best() {
    const found = this.things();
    const site = found.find((f) => f.thing.kind === "site");
    const firm = found.find((f) => !(f.thing.kind === "panel" && f.thing.clear) && f.thing.kind !== "opening" && f.thing.kind !== "site");
    if (site && (!firm || site.hit.distance < firm.hit.distance + 0.05)) return site;
    return firm || found.find((f) => f.thing.kind === "opening") || found[0] || null;
  }

  down(event) {
    if (event.button !== 0) return;
    this.aim(event);
    const picked = this.view.picked();
    // What is picked can be gripped through what stands before it.
    const gripped = picked && this.things().find((f) => f.thing.id === picked && f.thing.move !== "no");
    this.start = { x: event.clientX, y: event.clientY, found: gripped || this.best() };
    const f = this.start.found;
    if (f && f.thing.move !== "no" && f.thing.id === picked && !this.view.still()) {
      this.begin(f, event.shiftKey || this.view.upright());
      this.view.canvas.setPointerCapture(event.pointerId);
      this.view.orbit.enabled = false;
    }
  }

  begin(f, upright) {
    const thing = f.thing, object = f.object;
    const from = object.position.clone();
    const plane = new THREE.Plane();
    const normal = new THREE.Vector3(0, 0, 1);
    if (thing.move === "panel") normal.set(0, 0, 0).setComponent(SIDES[thing.side][0], 1);
    else if (upright && thing.move === "free") this.view.camera.getWorldDirection(normal).setZ(0).normalize();
    else if (thing.move === "along") this.view.camera.getWorldDirection(normal);
    plane.setFromNormalAndCoplanarPoint(normal, f.hit.point);
    this.drag = { thing, object, from, plane, grip: f.hit.point.clone(), upright: upright && thing.move === "free", moved: false, by: [0, 0, 0] };
  }

  shift() {
    // How far the thing is moved for where the pointer is now, snapped.
    const d = this.drag;
    const point = new THREE.Vector3();
    if (!this.ray.ray.intersectPlane(d.plane, point)) return null;
    point.sub(d.grip);
    const by = [point.x, point.y, point.z];
    if (d.thing.move === "level") by[2] = 0;
    else if (d.thing.move === "panel") by[SIDES[d.thing.side][0]] = 0;
    else if (d.thing.move === "free") {
      if (d.upright) by[0] = by[1] = 0;
      else by[2] = 0;
    } else if (d.thing.move === "along") {
      const a = new THREE.Vector3(...d.thing.line[0]), way = new THREE.Vector3(...d.thing.line[1]).sub(a);
      const long = way.length();
      way.normalize();
      const old = new THREE.Vector3(...d.thing.at).sub(a).dot(way);
      const now = Math.min(Math.max(old + point.dot(way), 0), long);
      d.along = Math.round((now / long) * 50) / 50;
      way.multiplyScalar(d.along * long - old);
      return [way.x, way.y, way.z];
    }
    const anchor = d.thing.at || d.thing.from;
    const step = this.view.snap();
    const axes = d.thing.move === "panel" ? SIDES[d.thing.side].slice(2) : [0, 1, 2];
    axes.forEach((axis, n) => {
      if (!by[axis]) return;
      const base = d.thing.move === "panel" ? anchor[n] : anchor[axis];
      if (step > 0) by[axis] = Math.round((base + by[axis]) / step) * step - base;
    });
    const inside = this.view.data().inside;
    axes.forEach((axis, n) => {
      const base = d.thing.move === "panel" ? anchor[n] : anchor[axis];
      const most = axis === 2 && d.thing.kind === "lamp" ? inside[2] + 0.3 : inside[axis];
      by[axis] = Math.min(Math.max(by[axis], -base), most - base);
    });
    return by;
  }

  move(event) {
    this.aim(event);
    if (!this.drag) {
      this.hover(event);
      return;
    }
    const by = this.shift();
    if (!by) return;
    const d = this.drag;
    if (!d.moved && Math.hypot(event.clientX - this.start.x, event.clientY - this.start.y) < 4) return;
    d.moved = true;
    d.by = by;
    d.object.position.set(d.from.x + by[0], d.from.y + by[1], d.from.z + by[2]);
    this.view.emit("drag", { id: d.thing.id, by, along: d.along });
    event.preventDefault();
  }

  up(event) {
    const d = this.drag;
    this.view.orbit.enabled = !this.view.still();
    this.drag = null;
    if (d && d.moved) {
      if (event.type === "pointercancel") d.object.position.copy(d.from);
      else this.view.emit("drop", { id: d.thing.id, by: d.by, along: d.along });
      return;
    }
    if (!this.start) return;
    const still = Math.hypot(event.clientX - this.start.x, event.clientY - this.start.y) < 5;
    if (still && event.type === "pointerup") {
      const f = this.start.found;
      this.view.emit("pick", f ? f.thing.id : null);
    }
    this.start = null;
  }

  hover(event) {
    const field = this.view.field();
    let told = null;
    if (field && field.mesh.visible) {
      const hit = this.ray.intersectObject(field.mesh, false)[0];
      if (hit) {
        const found = field.atFace ? field.atFace(hit) : { value: field.at(hit.point), owner: "" };
        told = { ...found, at: hit.point };
      }
    }
    const thing = this.best();
    this.view.canvas.style.cursor = thing && thing.thing.move !== "no" && thing.thing.id === this.view.picked() ? "grab" : "default";
    this.view.emit("hover", { x: event.offsetX, y: event.offsetY, told, name: thing ? thing.thing.name : "" });
  }
}
