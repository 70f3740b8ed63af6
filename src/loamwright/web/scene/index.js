// What the scene component needs, in one module without a build step.
export { build, dispose, SIDES } from "./things.js";
export { PlaneField, SurfaceField, legendSteps, told } from "./fields.js";
export { Pointer } from "./pointer.js";
export { ClimbOverlay } from "./climb.js";
export * from "nicegui-scene";
