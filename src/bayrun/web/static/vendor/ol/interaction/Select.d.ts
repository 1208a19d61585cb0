export * from "ol/interaction/Select.js";
export { default } from "ol/interaction/Select.js";
