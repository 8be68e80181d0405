/** One SVG element as text. Attribute values are escaped, numbers rounded to 0.01; children are taken as they are. */
export function svgElement(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  ...children: readonly string[]
): string {
  let open = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    open += ` ${key}="${typeof value === "number" ? svgNumber(value) : escapeXml(value)}"`;
  }
  return children.length === 0 ? `${open}/>` : `${open}>${children.join("")}</${name}>`;
}

/** A coordinate with two decimals at most and no negative zero, so that equal pictures give equal bytes. */
export function svgNumber(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

/** Text made safe for XML 1.0: markup is escaped, characters the standard forbids become a box.
 *  @see XML 1.0 (5th edition), production 2 */
export function escapeXml(text: string): string {
  if (!NEEDS_CARE.test(text)) return text;
  let out = "";
  for (const character of text) {
    out += ENTITIES[character] ?? (isXmlCharacter(character.codePointAt(0)!) ? character : "□");
  }
  return out;
}

/** Pictures in a page are long texts without any of these. */
const NEEDS_CARE = /[^\t\n\r !#-%(-;=?-~]/;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function isXmlCharacter(code: number): boolean {
  if (code < 0x20) return code === 0x9 || code === 0xa || code === 0xd;
  return code <= 0xd7ff || (code >= 0xe000 && code !== 0xfffe && code !== 0xffff);
}
