export * from "ol/style/Fill.js";
export { default } from "ol/style/Fill.js";
