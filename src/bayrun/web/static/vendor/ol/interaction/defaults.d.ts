export * from "ol/interaction/defaults.js";
