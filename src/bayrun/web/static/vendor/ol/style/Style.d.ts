export * from "ol/style/Style.js";
export { default } from "ol/style/Style.js";
