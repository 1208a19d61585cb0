export * from "ol/Feature.js";
export { default } from "ol/Feature.js";
