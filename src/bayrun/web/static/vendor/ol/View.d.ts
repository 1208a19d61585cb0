export * from "ol/View.js";
export { default } from "ol/View.js";
