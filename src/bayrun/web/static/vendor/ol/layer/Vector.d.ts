export * from "ol/layer/Vector.js";
export { default } from "ol/layer/Vector.js";
