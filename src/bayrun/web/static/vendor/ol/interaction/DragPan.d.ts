export * from "ol/interaction/DragPan.js";
export { default } from "ol/interaction/DragPan.js";
