export * from "ol/geom/LineString.js";
export { default } from "ol/geom/LineString.js";
