export * from "ol/control/ScaleLine.js";
export { default } from "ol/control/ScaleLine.js";
