export * from "ol/extent.js";
