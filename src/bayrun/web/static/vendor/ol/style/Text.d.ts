export * from "ol/style/Text.js";
export { default } from "ol/style/Text.js";
