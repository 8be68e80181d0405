import { access } from "node:fs/promises";

/** Whether something stands at a path that can be reached. */
export async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
