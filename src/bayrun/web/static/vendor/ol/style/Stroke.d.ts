export * from "ol/style/Stroke.js";
export { default } from "ol/style/Stroke.js";
