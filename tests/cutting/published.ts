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

const words = (text: string) => text.split(/\s+/).filter((word) => word !== '');

/** The instances of a file; throws when it is in none of the formats. */
export function readInstances(file: string, text: string, optima: ReadonlyMap<string, number> = new Map()): Instance[] {
  const name = file.replace(/[.][^.]*$/, '');
  if (file.endsWith('.json')) {
    const { kerf = 0, ...rest } = JSON.parse(text) as Omit<Instance, 'name' | 'kerf'> & { kerf?: number };
    return [{ ...rest, name, kerf }];
  }
  const found = words(text);
  if (found.slice(0, 3).some((word) => !/^\d+$/.test(word))) return readLibrary(found, optima);
  const numbers = found.map(Number);
  const [count, capacity, ...rest] = numbers as [number, number, ...number[]];
  const pieces =
    rest.length === count
      ? rest.map((length) => ({ length, quantity: 1 }))
      : rest.length === 2 * count
        ? Array.from({ length: count }, (_, at) => ({
            length: rest[2 * at] as number,
            quantity: rest[2 * at + 1] as number,
          }))
        : undefined;
  if (!pieces) throw new Error(`${file}: ${rest.length} numbers for ${count} sizes`);
  return [{ name, stock: [{ length: capacity }], pieces, kerf: 0, optimum: optima.get(name) }];
}

function readLibrary(found: readonly string[], optima: ReadonlyMap<string, number>): Instance[] {
  const instances: Instance[] = [];
  for (let at = 1; instances.length < Number(found[0]); ) {
    const [name, capacity, items] = found.slice(at, at + 3) as [string, string, string];
    const sizes = found.slice(at + 4, at + 4 + Number(items)).map(Number);
    if (sizes.length !== Number(items) || sizes.some(Number.isNaN)) throw new Error(`${name} is cut short`);
    instances.push({
      name,
      stock: [{ length: Number(capacity) }],
      pieces: sizes.map((length) => ({ length, quantity: 1 })),
      kerf: 0,
      optimum: optima.get(name),
    });
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
