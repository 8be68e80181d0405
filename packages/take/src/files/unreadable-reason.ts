/** Why the system does not let a file be read, in words where it is one of the usual reasons. */
export function unreadableReason(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? String(error);
  const reasons: Readonly<Record<string, string>> = {
    ENOENT: "it does not exist",
    ENOTDIR: "it does not exist",
    EISDIR: "it is a folder",
    EACCES: "permission is denied",
  };
  return reasons[code] ?? code;
}
