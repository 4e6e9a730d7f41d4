/** What was ticked and noted, kept in this browser by project, unit and revision; in this page alone where it refuses. */
import type { Kept, PageData } from './data.ts';

export interface Store {
  readonly isKept: boolean;
  readonly read: (unit: string) => Kept;
  readonly write: (unit: string, kept: Kept) => void;
  readonly forget: (unit: string) => void;
}

const nothing: Kept = { boxes: {}, notes: {} };

export function storeFor({ title, revision }: Pick<PageData, 'title' | 'revision'>, storage: () => Storage): Store {
  const held = new Map<string, Kept>();
  const keyOf = (unit: string): string => JSON.stringify(['storypole', title, unit, revision]);
  let disk: Storage | undefined;
  try {
    disk = storage();
    const probe = JSON.stringify(['storypole', 'probe']);
    disk.setItem(probe, '1');
    disk.removeItem(probe);
  } catch {
    disk = undefined;
  }
  return {
    get isKept() {
      return disk !== undefined;
    },
    read(unit) {
      try {
        const text = disk?.getItem(keyOf(unit));
        if (text) return keptIn(JSON.parse(text));
      } catch {
        // Not ours, or no longer to be had.
      }
      return held.get(unit) ?? nothing;
    },
    write(unit, kept) {
      held.set(unit, kept);
      try {
        disk?.setItem(keyOf(unit), JSON.stringify(kept));
      } catch {
        disk = undefined;
      }
    },
    forget(unit) {
      held.delete(unit);
      try {
        disk?.removeItem(keyOf(unit));
      } catch {
        disk = undefined;
      }
    },
  };
}

function keptIn(value: unknown): Kept {
  const { boxes = {}, notes = {} } = value as Partial<Kept>;
  return { boxes: { ...boxes }, notes: { ...notes } };
}
