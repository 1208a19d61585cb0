export * from "ol/layer/Image.js";
export { default } from "ol/layer/Image.js";
