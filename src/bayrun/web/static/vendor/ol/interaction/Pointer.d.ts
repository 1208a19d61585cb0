export * from "ol/interaction/Pointer.js";
export { default } from "ol/interaction/Pointer.js";
