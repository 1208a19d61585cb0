export * from "ol/style/Circle.js";
export { default } from "ol/style/Circle.js";
