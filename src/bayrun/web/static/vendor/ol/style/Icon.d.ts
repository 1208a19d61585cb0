export * from "ol/style/Icon.js";
export { default } from "ol/style/Icon.js";
