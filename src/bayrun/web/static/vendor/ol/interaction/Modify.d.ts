export * from "ol/interaction/Modify.js";
export { default } from "ol/interaction/Modify.js";
