/** Reads published instances (see instances/README.md) and writes the requests that stand for them. */
import type { PlanRequest } from '../../server/cutting/types.ts';
import { ticks } from '../../server/model/ticks.ts';

export interface Instance {
  readonly name: string;
  readonly stock: readonly { readonly length: number; readonly price?: number; readonly count?: number }[];
  readonly pieces: readonly { readonly length: number; readonly quantity: number }[];
  readonly kerf: number;
  /** Boards where there is one stock length without a price; otherwise what the plan is judged by. */
  readonly optimum?: number | undefined;
}

/** The instances of a file; throws when it is in none of the formats. */
export function readInstances(file: string, text: string, optima: ReadonlyMap<string, number> = new Map()): Instance[] {
  const name = file.replace(/[.][^.]*$/, '');
  if (file.endsWith('.json')) {
    const { kerf = 0, ...rest } = JSON.parse(text) as Omit<Instance, 'name' | 'kerf'> & { kerf?: number };
    return [{ ...rest, name, kerf }];
  }
  const rows = text
    .replace(/^\uFEFF/, '')
    .split('\n')
    .map((line) => line.split(/[\s,;]+/).filter((word) => word !== ''))
    .filter((row) => row.length > 0);
  const found = rows.flat();
  if (found.length > 1 && !isNumber(found[1])) return readLibrary(found, optima);
  const odd = found.find((word) => !isNumber(word));
  if (odd !== undefined) throw new Error(`${file}: "${odd}" is not a number`);
  const several = readSeveral(rows.map((row) => row.map(Number)));
  if (several) return [inWhole({ name, ...several, kerf: 0, optimum: optima.get(name) })];
  const [count, capacity, ...rest] = found.map(Number) as [number, number, ...number[]];
  const pieces =
    rest.length === count
      ? rest.map((length) => ({ length, quantity: 1 }))
      : rest.length === 2 * count
        ? pairs(rest).map(([length, quantity]) => ({ length, quantity }))
        : undefined;
  if (!pieces) throw new Error(`${file}: ${rest.length} numbers for ${count} sizes`);
  return [inWhole({ name, stock: [{ length: capacity }], pieces, kerf: 0, optimum: optima.get(name) })];
}

function isNumber(word: string | undefined): boolean {
  return word !== undefined && /^\d+([.]\d*)?$/.test(word);
}

function pairs(numbers: readonly number[]): [number, number][] {
  return Array.from({ length: numbers.length / 2 }, (_, at) => [
    numbers[2 * at] as number,
    numbers[2 * at + 1] as number,
  ]);
}

/** `kinds sizes`, then a line `length price [count]` for each kind and a line `size [demand]` for each size. */
function readSeveral(rows: readonly number[][]): Pick<Instance, 'stock' | 'pieces'> | undefined {
  const [head = [], ...rest] = rows;
  const [kinds, sizes] = head;
  if (head.length !== 2 || kinds === undefined || sizes === undefined || rest.length !== kinds + sizes)
    return undefined;
  const [stock, pieces] = [rest.slice(0, kinds), rest.slice(kinds)];
  const even = (part: readonly number[][], least: number, most: number): boolean =>
    part.every(({ length }) => length >= least && length <= most && length === part[0]?.length);
  if (kinds === 0 || !even(stock, 2, 3) || !even(pieces, 1, 2)) return undefined;
  return {
    stock: stock.map(([length = 0, price = 0, count]) => ({ length, price, ...(count !== undefined && { count }) })),
    pieces: pieces.map(([length = 0, quantity = 1]) => ({ length, quantity })),
  };
}

/** Lengths with decimals, as the triplets of the OR-Library have, in tenths or finer, so that all are whole. */
function inWhole(instance: Instance): Instance {
  const lengths = [...instance.stock, ...instance.pieces].map(({ length }) => length);
  const decimals = Math.max(...lengths.map((length) => (String(length).split('.')[1] ?? '').length));
  if (decimals === 0) return instance;
  const whole = (length: number): number => Math.round(length * 10 ** decimals);
  return {
    ...instance,
    stock: instance.stock.map((board) => ({ ...board, length: whole(board.length) })),
    pieces: instance.pieces.map((piece) => ({ ...piece, length: whole(piece.length) })),
  };
}

function readLibrary(found: readonly string[], optima: ReadonlyMap<string, number>): Instance[] {
  const instances: Instance[] = [];
  for (let at = 1; instances.length < Number(found[0]); ) {
    const [name, capacity, items] = found.slice(at, at + 3) as [string, string, string];
    const sizes = found.slice(at + 4, at + 4 + Number(items)).map(Number);
    if (sizes.length !== Number(items) || sizes.some(Number.isNaN)) throw new Error(`${name} is cut short`);
    instances.push(
      inWhole({
        name,
        stock: [{ length: Number(capacity) }],
        pieces: sizes.map((length) => ({ length, quantity: 1 })),
        kerf: 0,
        optimum: optima.get(name),
      }),
    );
    at += 4 + Number(items);
  }
  return instances;
}

/** `name<TAB>optimum` in each line; lines without a number, such as a heading, are passed over. */
export function readOptima(text: string): Map<string, number> {
  return new Map(
    text.split('\n').flatMap((line): [string, number][] => {
      const [name, optimum] = line.split('\t');
      return name && optimum && /^\d+$/.test(optimum.trim()) ? [[name, Number(optimum)]] : [];
    }),
  );
}

export function requestOf({ stock, pieces, kerf }: Instance, count?: number): PlanRequest {
  return {
    pieces: pieces.map(({ length, quantity }, index) => ({
      id: `item ${index}`,
      material: 'm',
      length: ticks(length),
      quantity,
    })),
    stock: stock.map((board, index) => ({
      id: `stock ${index}`,
      material: 'm',
      length: ticks(board.length),
      price: board.price,
      count: count ?? board.count,
      offcut: false,
    })),
    saw: { kerf: ticks(kerf), keepOffcutsFrom: ticks(0) },
  };
}
