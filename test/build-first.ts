import { execFileSync } from "node:child_process";
import { join } from "node:path";

/** Builds what has changed since it was last built: packages are tested as they are built. */
export default function buildFirst(): void {
  const root = join(import.meta.dirname, "..");
  execFileSync(process.execPath, [join(root, "node_modules", "typescript", "bin", "tsc"), "-b"], {
    cwd: root,
    stdio: "inherit",
  });
}
