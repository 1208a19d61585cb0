export * from "ol/style/RegularShape.js";
export { default } from "ol/style/RegularShape.js";
