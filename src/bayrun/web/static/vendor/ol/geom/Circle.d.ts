export * from "ol/geom/Circle.js";
export { default } from "ol/geom/Circle.js";
