export * from "ol/interaction/Snap.js";
export { default } from "ol/interaction/Snap.js";
