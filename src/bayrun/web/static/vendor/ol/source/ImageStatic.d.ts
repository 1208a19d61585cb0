export * from "ol/source/ImageStatic.js";
export { default } from "ol/source/ImageStatic.js";
