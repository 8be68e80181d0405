const MOST_TIMES = 20;
/** A folder that another run has made, or removed because it was empty, between a look and the write. */
const OF_OTHERS = new Set(["ENOENT", "EEXIST"]);

/** Writes where other runs may write at the same time: what fails because a folder has come or gone is done again.
 *  @throws whatever `write` throws, the last time */
export async function amongOthers<T>(write: () => Promise<T>): Promise<T> {
  for (let time = 1; ; time++) {
    try {
      return await write();
    } catch (error) {
      const { code } = ((error as Error).cause ?? {}) as NodeJS.ErrnoException;
      if (time >= MOST_TIMES || code === undefined || !OF_OTHERS.has(code)) throw error;
    }
  }
}
