/** A folder that has just been made is told of before its files are written, and not every watcher is in it in time to see them come. */

export interface SecondLook {
  /** Looks again once no folder has come for a while. */
  readonly into: (folder: string) => void;
  readonly stop: () => void;
}

/** Looks into each folder a second time, `pause` milliseconds after the last one came. */
export function createSecondLook(look: (folders: readonly string[]) => void, pause = 1_000): SecondLook {
  const folders = new Set<string>();
  let timer: ReturnType<typeof setTimeout> | undefined;

  function over(): void {
    const all = [...folders];
    folders.clear();
    look(all);
  }

  return {
    into(folder) {
      folders.add(folder);
      clearTimeout(timer);
      timer = setTimeout(over, pause);
    },
    stop() {
      clearTimeout(timer);
      folders.clear();
    },
  };
}
