/** The folder that a take of a batch stands in; "." for the one that was searched.
 *  @param name  of the take, with "/" between folders */
export function folderOfTake(name: string): string {
  const end = name.lastIndexOf("/");
  return end < 0 ? "." : name.slice(0, end);
}
