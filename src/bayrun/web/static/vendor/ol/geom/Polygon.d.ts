export * from "ol/geom/Polygon.js";
export { default } from "ol/geom/Polygon.js";
