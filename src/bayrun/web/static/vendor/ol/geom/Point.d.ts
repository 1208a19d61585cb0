export * from "ol/geom/Point.js";
export { default } from "ol/geom/Point.js";
