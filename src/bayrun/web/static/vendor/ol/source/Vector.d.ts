export * from "ol/source/Vector.js";
export { default } from "ol/source/Vector.js";
