import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";

export type CodeKind = "error" | "warning" | "not-found";

const packages = join(import.meta.dirname, "..", "packages");
/** Rooms that turn what others throw into an error for a person. */
const SHELLS = ["batch", "cli"];
const CODE = /^[a-z]+(-[a-z]+)*$/;

/** Every code that the packages' sources give away: the words of the types of error codes, and the literals that stand as
 *  `code` or `reason` beside a `message`, as keys of an object or as arguments of a function or an error. What is only
 *  passed on is no literal. */
export function codesInSource(): Readonly<Record<CodeKind, ReadonlySet<string>>> {
  const sources = readdirSync(packages).flatMap((name) => {
    const folder = join(packages, name, "src");
    return readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((file) => file.endsWith(".ts"))
      .map((file) => ({
        inShell: SHELLS.includes(name),
        tree: ts.createSourceFile(
          file,
          readFileSync(join(folder, file), "utf8"),
          ts.ScriptTarget.Latest,
          true,
        ),
      }));
  });
  const places = codePlaces(sources.map(({ tree }) => tree));
  const found = { error: new Set<string>(), warning: new Set<string>(), "not-found": new Set<string>() };
  for (const { tree, inShell } of sources)
    each(tree, (node) => {
      for (const { name, value, isThrown } of given(node, places)) {
        const kind = name === "reason" ? "not-found" : isThrown || inShell ? "error" : "warning";
        for (const code of literals(value)) found[kind].add(code);
      }
      for (const code of declared(node)) found.error.add(code);
    });
  return found;
}

interface Given {
  readonly name: string;
  readonly value: ts.Node;
  readonly isThrown: boolean;
}

/** Names of functions and errors that take a code and a message, and which of their arguments is the code. */
function codePlaces(trees: readonly ts.SourceFile[]): ReadonlyMap<string, { name: string; at: number }> {
  const places = new Map<string, { name: string; at: number }>();
  for (const tree of trees)
    each(tree, (node) => {
      if (!ts.isFunctionLike(node)) return;
      const names = node.parameters.map((parameter) => parameter.name.getText());
      const at = names.findIndex(isCode);
      const owner = ts.isFunctionDeclaration(node) ? node : node.parent;
      if (at < 0 || !names.includes("message") || !("name" in owner)) return;
      places.set((owner.name as ts.Node).getText(), { name: names[at], at });
    });
  return places;
}

function given(node: ts.Node, places: ReturnType<typeof codePlaces>): Given[] {
  if (ts.isNewExpression(node) || ts.isCallExpression(node)) {
    const place = places.get(node.expression.getText());
    const value = place && node.arguments?.[place.at];
    return value ? [{ name: place.name, value, isThrown: ts.isNewExpression(node) }] : [];
  }
  if (!ts.isObjectLiteralExpression(node)) return [];
  const keys = node.properties.map((property) => property.name?.getText());
  return node.properties.flatMap((property) =>
    keys.includes("message") && ts.isPropertyAssignment(property) && isCode(property.name.getText())
      ? [{ name: property.name.getText(), value: property.initializer, isThrown: false }]
      : [],
  );
}

/** Of `type SomeErrorCode = "a" | "b"`, and of an error's constructor that lists its codes itself. */
function declared(node: ts.Node): string[] {
  const isType = ts.isTypeAliasDeclaration(node) && node.name.text.endsWith("ErrorCode");
  const isParameter =
    ts.isParameter(node) && ts.isConstructorDeclaration(node.parent) && node.name.getText() === "code";
  return (isType || isParameter) && node.type ? literals(node.type) : [];
}

/** The text itself, those that a condition chooses from, or those of a union. */
function literals(node: ts.Node): string[] {
  if (ts.isStringLiteral(node)) return CODE.test(node.text) ? [node.text] : [];
  if (ts.isLiteralTypeNode(node)) return literals(node.literal);
  if (ts.isConditionalExpression(node)) return [...literals(node.whenTrue), ...literals(node.whenFalse)];
  return ts.isUnionTypeNode(node) ? node.types.flatMap(literals) : [];
}

function each(node: ts.Node, visit: (node: ts.Node) => void): void {
  visit(node);
  ts.forEachChild(node, (child) => each(child, visit));
}

function isCode(name: string): boolean {
  return name === "code" || name === "reason";
}
