export * from "ol/geom/MultiLineString.js";
export { default } from "ol/geom/MultiLineString.js";
