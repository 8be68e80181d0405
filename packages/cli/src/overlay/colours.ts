/** Colours that stand apart from grey. */
export const COLOURS: Readonly<Record<string, string>> = {
  amber: "#ffb000",
  white: "#ffffff",
  yellow: "#ffe800",
  green: "#35e05a",
  cyan: "#29e0ff",
  magenta: "#ff4fd8",
  red: "#ff3b30",
  black: "#000000",
};
