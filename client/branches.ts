/**
 * What a tree shows, branch by branch, and what of it has to be drawn anew. A tree that is drawn anew as a whole loses a
 * key by which a branch is opened meanwhile, so only rows that are no longer as they were are.
 */

export interface Row {
  /** The keys that lead to it from the top. */
  readonly path: readonly string[];
  readonly hasChildren: boolean;
}

/** The top of a tree is a branch too, that no row stands for. */
export type Branch<R> = R | undefined;

export interface Branches<R extends Row> {
  /** What a branch that is being drawn holds. A row that was there before stays the same object. */
  readonly drawn: (branch: Branch<R>, rows: readonly R[]) => R[];
  /** The row that is drawn where such a one is, and else the one given. */
  readonly rowOf: (row: R) => R;
  /** The row that one stands under. */
  readonly above: (row: R) => Branch<R>;
  readonly opened: (row: R) => void;
  /** What stands under it is looked at once it is opened again. */
  readonly shut: (row: R) => void;
  /**
   * Asks for every open branch that is drawn, and tells which have to be drawn anew with all under them: a branch that
   * holds other rows now, and a row that says something else.
   */
  readonly outdated: (ask: (branch: Branch<R>) => Promise<readonly R[]>) => Promise<Branch<R>[]>;
}

interface Drawn<R> {
  readonly branch: Branch<R>;
  readonly rows: readonly R[];
  isOpen: boolean;
}

const top: readonly string[] = [];

export function branchesOf<R extends Row>(): Branches<R> {
  const branches = new Map<string, Drawn<R>>();
  /** All rows that were drawn or led to, by their paths. */
  const rows = new Map<string, R>();

  function rowOf(row: R): R {
    const id = idOf(row.path);
    const known = rows.get(id) ?? row;
    rows.set(id, known);
    return known;
  }

  /** A row goes with all that stands under it. */
  function forget({ path }: R): void {
    for (const id of [...rows.keys()]) {
      const other = rows.get(id)?.path ?? top;
      if (!path.every((key, at) => other[at] === key)) continue;
      rows.delete(id);
      branches.delete(id);
    }
  }

  function setOpen(row: R, isOpen: boolean): void {
    const drawn = branches.get(idOf(row.path));
    if (drawn) drawn.isOpen = isOpen;
  }

  /** What of a branch has to be drawn anew, by what it holds now. */
  function compared({ branch, rows: before }: Drawn<R>, now: readonly R[]): Branch<R>[] {
    const isAsBefore = (row: R, at: number): boolean => {
      const old = before[at];
      return old !== undefined && idOf(old.path) === idOf(row.path) && old.hasChildren === row.hasChildren;
    };
    if (before.length !== now.length || !now.every(isAsBefore)) return [branch];
    return before.flatMap((row, at) => (takeOver(row, now[at] ?? row) ? [row] : []));
  }

  return {
    rowOf,
    above: ({ path }) => (path.length === 0 ? undefined : rows.get(idOf(path.slice(0, -1)))),
    opened: (row) => setOpen(row, true),
    shut: (row) => setOpen(row, false),
    drawn(branch, now) {
      const id = idOf(branch?.path ?? top);
      const ids = new Set(now.map(({ path }) => idOf(path)));
      for (const row of branches.get(id)?.rows ?? []) if (!ids.has(idOf(row.path))) forget(row);
      const taken = now.map((row) => {
        const known = rowOf(row);
        takeOver(known, row);
        return known;
      });
      if (branch) rows.set(id, branch);
      branches.set(id, { branch, rows: taken, isOpen: true });
      return taken;
    },
    async outdated(ask) {
      const found: Branch<R>[] = [];
      const isUnder = ({ path }: R): boolean =>
        found.some((other) => other === undefined || other.path.every((key, at) => path[at] === key));
      const byDepth = [...branches.values()].sort((a, b) => lengthOf(a.branch) - lengthOf(b.branch));
      for (const drawn of byDepth) {
        if (!isSeen(drawn.branch) || (drawn.branch ? isUnder(drawn.branch) : found.length > 0)) continue;
        found.push(...compared(drawn, await ask(drawn.branch)));
      }
      return found;
    },
  };

  /** It is open, and so is all that it stands under. */
  function isSeen(branch: Branch<R>): boolean {
    for (let path = branch?.path ?? top; path.length > 0; path = path.slice(0, -1))
      if (branches.get(idOf(path))?.isOpen !== true) return false;
    return true;
  }
}

/** Makes a row say what another one says. Tells whether it said something else. */
function takeOver<R extends Row>(row: R, other: R): boolean {
  if (row === other || JSON.stringify(row) === JSON.stringify(other)) return false;
  for (const key of Object.keys(row)) if (!(key in other)) Reflect.deleteProperty(row, key);
  Object.assign(row, other);
  return true;
}

const lengthOf = (branch: Branch<Row>): number => branch?.path.length ?? 0;

function idOf(path: readonly string[]): string {
  return JSON.stringify(path);
}
