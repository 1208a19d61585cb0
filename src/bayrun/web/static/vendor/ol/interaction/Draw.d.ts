export * from "ol/interaction/Draw.js";
export { default } from "ol/interaction/Draw.js";
