export * from "ol/Map.js";
export { default } from "ol/Map.js";
