export * from "ol/proj/Projection.js";
export { default } from "ol/proj/Projection.js";
