export * from "htm";
export { default } from "htm";
