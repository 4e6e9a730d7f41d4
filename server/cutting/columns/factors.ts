/**
 * A sparse square matrix in triangular factors: solves with it and with its transpose, and exchanges single
 * columns without factoring anew. Cutting patterns have few entries, and the factors hardly more.
 *
 * Source of the methods: left-looking factors after J. R. Gilbert and T. Peierls, SIAM Journal on Scientific
 * and Statistical Computing 9, 1988; product form of the inverse, G. B. Dantzig and W. Orchard-Hays, 1954
 * (both from memory).
 */

/** Columns one after another; column j has the entries from starts[j] to starts[j + 1]. */
export interface SparseColumns {
  readonly starts: Int32Array;
  readonly index: Int32Array;
  readonly entry: Float64Array;
}

export interface Factors {
  /**
   * Factors the matrix that has these columns at its positions. Returns the positions of columns that depend
   * on others; for each, a row whose unit column has been taken instead.
   */
  factor(matrix: SparseColumns, columns: Int32Array): { readonly position: number; readonly row: number }[];
  /** Solves matrix * x = side; the side goes in by row, the solution comes out by position, in place. */
  solve(x: Float64Array): void;
  /** Solves matrix' * y = side; the side goes in by position, the solution comes out by row, in place. */
  solveTransposed(y: Float64Array): void;
  /** The column at a position becomes another, given as solve() shows it. */
  exchange(position: number, seen: Float64Array): void;
  /** How many exchanges since the last factoring, and how many numbers a solve goes through. */
  exchanges(): number;
  size(): number;
}

const TINY = 1e-12;

export function createFactors(rows: number): Factors {
  // Step k pivots on row pivotRow[k] and position pivotAt[k].
  const pivotRow = new Int32Array(rows);
  const pivotAt = new Int32Array(rows);
  const diagonal = new Float64Array(rows);
  const lower = columnList(rows);
  const upper = columnList(rows);
  const etas = columnList(rows);
  const etaAt: number[] = [];
  const etaPivot: number[] = [];
  const work = new Float64Array(rows);
  const mark = new Uint8Array(rows);

  function factor(matrix: SparseColumns, columns: Int32Array): { position: number; row: number }[] {
    lower.clear();
    upper.clear();
    etas.clear();
    etaAt.length = 0;
    etaPivot.length = 0;
    const { starts, index, entry } = matrix;
    const { first, order, rowCount } = eliminationOrder(matrix, columns, rows);
    const stepOf = new Int32Array(rows).fill(-1);
    const failed: number[] = [];
    let step = 0;
    for (const position of first) {
      const j = columns[position] as number;
      let row = -1;
      for (let at = starts[j] as number; at < (starts[j + 1] as number); at++) {
        const known = stepOf[index[at] as number] as number;
        if (known < 0) [row, diagonal[step]] = [index[at] as number, entry[at] as number];
        else upper.push(known, entry[at] as number);
      }
      upper.end();
      lower.end();
      stepOf[row] = step;
      pivotRow[step] = row;
      pivotAt[step++] = position;
    }
    const from = step;
    work.fill(0);
    /** The rows of `work` that are not 0, or were not; open ones and pivots from `from` on. */
    const touched: number[] = [];
    const touch = (row: number, by: number): void => {
      if (mark[row] === 0) {
        mark[row] = 1;
        touched.push(row);
      }
      work[row] = (work[row] as number) + by;
    };
    const pivotOn = (position: number, row: number): void => {
      const pivot = work[row] as number;
      for (const other of touched) {
        const value = work[other] as number;
        if (other === row || Math.abs(value) <= TINY) continue;
        const known = stepOf[other] as number;
        if (known >= 0) upper.push(known, value);
        else lower.push(other, value / pivot);
      }
      upper.end();
      lower.end();
      stepOf[row] = step;
      pivotRow[step] = row;
      pivotAt[step] = position;
      diagonal[step] = pivot;
      step++;
    };
    const clear = (): void => {
      for (const row of touched) {
        work[row] = 0;
        mark[row] = 0;
      }
      touched.length = 0;
    };
    for (const position of order) {
      const j = columns[position] as number;
      const written = upper.length();
      for (let at = starts[j] as number; at < (starts[j + 1] as number); at++) {
        const row = index[at] as number;
        const known = stepOf[row] as number;
        if (known >= 0 && known < from) upper.push(known, entry[at] as number);
        else touch(row, entry[at] as number);
      }
      // Steps in their order; each can only touch rows of later ones.
      const low = lower.data();
      for (let k = nextStep(touched, from - 1); k < step; k = nextStep(touched, k)) {
        const value = work[pivotRow[k] as number] as number;
        if (value === 0) continue;
        for (let at = low.starts[k] as number, end = low.starts[k + 1] as number; at < end; at++) {
          touch(low.index[at] as number, -(low.entry[at] as number) * value);
        }
      }
      let largest = 0;
      for (const row of touched) if (stepOf[row] === -1) largest = Math.max(largest, Math.abs(work[row] as number));
      if (largest < 1e-7) {
        upper.cut(written);
        failed.push(position);
      } else {
        let chosen = -1;
        for (const row of touched) {
          if (stepOf[row] !== -1 || Math.abs(work[row] as number) < 0.1 * largest) continue;
          const fewer = chosen < 0 ? -1 : (rowCount[row] as number) - (rowCount[chosen] as number) || row - chosen;
          if (fewer < 0) chosen = row;
        }
        pivotOn(position, chosen);
      }
      clear();
    }

    /** The first step after `after` whose row is touched. */
    function nextStep(among: readonly number[], after: number): number {
      let next = rows;
      for (const row of among) {
        const known = stepOf[row] as number;
        if (known > after && known < next) next = known;
      }
      return next;
    }

    let free = 0;
    return failed.map((position) => {
      while (stepOf[free] !== -1) free++;
      clear();
      touch(free, 1);
      pivotOn(position, free);
      clear();
      return { position, row: free };
    });
  }

  function applyLower(x: Float64Array): void {
    const { starts, index, entry } = lower.data();
    for (let k = 0; k < rows; k++) {
      const value = x[pivotRow[k] as number] as number;
      if (value === 0) continue;
      for (let at = starts[k] as number, end = starts[k + 1] as number; at < end; at++) {
        const row = index[at] as number;
        x[row] = (x[row] as number) - (entry[at] as number) * value;
      }
    }
  }

  function solve(x: Float64Array): void {
    applyLower(x);
    const up = upper.data();
    for (let k = rows - 1; k >= 0; k--) {
      const row = pivotRow[k] as number;
      let value = x[row] as number;
      if (value !== 0) {
        value /= diagonal[k] as number;
        for (let at = up.starts[k] as number, end = up.starts[k + 1] as number; at < end; at++) {
          const other = pivotRow[up.index[at] as number] as number;
          x[other] = (x[other] as number) - (up.entry[at] as number) * value;
        }
      }
      work[pivotAt[k] as number] = Math.abs(value) < TINY ? 0 : value;
    }
    x.set(work);
    const eta = etas.data();
    for (let e = 0; e < etaAt.length; e++) {
      const position = etaAt[e] as number;
      let value = x[position] as number;
      if (value === 0) continue;
      value /= etaPivot[e] as number;
      for (let at = eta.starts[e] as number, end = eta.starts[e + 1] as number; at < end; at++) {
        const other = eta.index[at] as number;
        x[other] = (x[other] as number) - (eta.entry[at] as number) * value;
      }
      x[position] = value;
    }
  }

  function solveTransposed(y: Float64Array): void {
    const eta = etas.data();
    for (let e = etaAt.length - 1; e >= 0; e--) {
      const position = etaAt[e] as number;
      let value = y[position] as number;
      for (let at = eta.starts[e] as number, end = eta.starts[e + 1] as number; at < end; at++) {
        value -= (eta.entry[at] as number) * (y[eta.index[at] as number] as number);
      }
      y[position] = value / (etaPivot[e] as number);
    }
    const up = upper.data();
    for (let k = 0; k < rows; k++) {
      let value = y[pivotAt[k] as number] as number;
      for (let at = up.starts[k] as number, end = up.starts[k + 1] as number; at < end; at++) {
        value -= (up.entry[at] as number) * (work[pivotRow[up.index[at] as number] as number] as number);
      }
      work[pivotRow[k] as number] = value / (diagonal[k] as number);
    }
    const low = lower.data();
    for (let k = rows - 1; k >= 0; k--) {
      const from = low.starts[k] as number;
      const end = low.starts[k + 1] as number;
      if (from === end) continue;
      let value = work[pivotRow[k] as number] as number;
      for (let at = from; at < end; at++)
        value -= (low.entry[at] as number) * (work[low.index[at] as number] as number);
      work[pivotRow[k] as number] = value;
    }
    y.set(work);
  }

  function exchange(position: number, seen: Float64Array): void {
    for (let other = 0; other < rows; other++) {
      const value = seen[other] as number;
      if (value !== 0 && other !== position) etas.push(other, value);
    }
    etas.end();
    etaAt.push(position);
    etaPivot.push(seen[position] as number);
  }

  return {
    factor,
    solve,
    solveTransposed,
    exchange,
    exchanges: () => etaAt.length,
    size: () => rows + lower.length() + upper.length() + etas.length(),
  };
}

/**
 * An order of positions in which little fills in: columns that have one open row first, one after another;
 * then what is left, short columns first; last the columns that alone have some row. With it, in how many
 * columns of the middle part each row is.
 */
function eliminationOrder(
  { starts, index }: SparseColumns,
  columns: Int32Array,
  rows: number,
): { first: number[]; order: number[]; rowCount: Int32Array } {
  const rowCount = new Int32Array(rows);
  const open = new Int32Array(rows);
  const inRow: number[][] = Array.from({ length: rows }, () => []);
  for (let position = 0; position < rows; position++) {
    const j = columns[position] as number;
    for (let at = starts[j] as number; at < (starts[j + 1] as number); at++) {
      const row = index[at] as number;
      rowCount[row] = (rowCount[row] as number) + 1;
      open[position] = (open[position] as number) + 1;
      (inRow[row] as number[]).push(position);
    }
  }
  const done = new Uint8Array(rows);
  const closed = new Uint8Array(rows);
  const first: number[] = [];
  const last: number[] = [];
  const rowsOf = (position: number): number[] => {
    const j = columns[position] as number;
    return Array.from(index.subarray(starts[j], starts[j + 1]));
  };
  const close = (row: number): void => {
    closed[row] = 1;
    for (const position of inRow[row] as number[]) {
      open[position] = (open[position] as number) - 1;
      if (done[position] === 0 && open[position] === 1) singles.push(position);
    }
  };
  const singles: number[] = [];
  for (let position = 0; position < rows; position++) if (open[position] === 1) singles.push(position);
  for (let at = 0; at < singles.length; at++) {
    const position = singles[at] as number;
    if (done[position] === 1 || open[position] !== 1) continue;
    const row = rowsOf(position).find((each) => closed[each] === 0) as number;
    done[position] = 1;
    first.push(position);
    for (const other of rowsOf(position)) rowCount[other] = (rowCount[other] as number) - 1;
    close(row);
  }
  const lonely: number[] = [];
  for (let row = 0; row < rows; row++) if (closed[row] === 0 && rowCount[row] === 1) lonely.push(row);
  for (let at = 0; at < lonely.length; at++) {
    const row = lonely[at] as number;
    if (closed[row] === 1 || rowCount[row] !== 1) continue;
    const position = (inRow[row] as number[]).find((each) => done[each] === 0);
    if (position === undefined) continue;
    done[position] = 1;
    closed[row] = 1;
    last.push(position);
    for (const other of rowsOf(position)) {
      rowCount[other] = (rowCount[other] as number) - 1;
      if (closed[other] === 0 && rowCount[other] === 1) lonely.push(other);
    }
  }
  const middle: number[] = [];
  for (let position = 0; position < rows; position++) if (done[position] === 0) middle.push(position);
  middle.sort((a, b) => (open[a] as number) - (open[b] as number) || a - b);
  return { first, order: [...middle, ...last.reverse()], rowCount };
}

/** Columns that are written one after another and cleared together. */
function columnList(rows: number) {
  let starts = new Int32Array(rows + 2);
  let index = new Int32Array(4 * rows + 64);
  let entry = new Float64Array(4 * rows + 64);
  let count = 0;
  let length = 0;
  return {
    clear() {
      count = 0;
      length = 0;
    },
    push(row: number, value: number) {
      if (length === index.length) {
        const [wider, longer] = [new Int32Array(2 * length), new Float64Array(2 * length)];
        wider.set(index);
        longer.set(entry);
        [index, entry] = [wider, longer];
      }
      index[length] = row;
      entry[length++] = value;
    },
    end() {
      if (count + 2 > starts.length) {
        const wider = new Int32Array(2 * starts.length);
        wider.set(starts);
        starts = wider;
      }
      starts[++count] = length;
    },
    length: () => length,
    /** Takes back what was written past a mark. */
    cut(mark: number) {
      length = mark;
    },
    data: (): SparseColumns => ({ starts, index, entry }),
  };
}
