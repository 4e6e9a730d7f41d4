/** What of a tree is drawn anew. */
import { describe, expect, it } from 'vitest';
import { branchesOf } from '../../client/branches.ts';

interface Row {
  path: string[];
  hasChildren: boolean;
  says: string;
  mark?: string;
}

const leaf = (path: string, says: string, mark?: string): Row => ({
  path: path.split('/'),
  hasChildren: false,
  says,
  ...(mark === undefined ? {} : { mark }),
});
const branch = (path: string, says: string): Row => ({ ...leaf(path, says), hasChildren: true });

/** A tree of a building with two floors and a stock, each of which is open. What it holds now is what `holds` says. */
function tree() {
  const holds: Record<string, Row[]> = {
    '': [branch('north', '3 units')],
    north: [branch('north/floors', '2'), branch('north/stock', '13 lengths')],
    'north/floors': [leaf('north/floors/1', '2 units'), leaf('north/floors/2', '1 unit', 'error')],
    'north/stock': [leaf('north/stock/white', '5 lengths')],
  };
  const branches = branchesOf<Row>();
  const asked: string[] = [];
  const pathOf = (row: Row | undefined) => row?.path.join('/') ?? '';
  const ask = async (row: Row | undefined) => {
    asked.push(pathOf(row));
    return (holds[pathOf(row)] ?? []).map((held) => ({ ...held }));
  };
  const draw = async (row?: Row): Promise<Row[]> => {
    const rows = branches.drawn(row, await ask(row));
    for (const child of rows) if (child.hasChildren) await draw(child);
    return rows;
  };
  const row = (path: string) => branches.rowOf(leaf(path, 'led to'));
  const outdated = async () => {
    asked.length = 0;
    return (await branches.outdated(ask)).map(pathOf);
  };
  return { holds, branches, asked, draw, row, outdated };
}

describe('a tree of which something has changed', () => {
  it('is left as it is where all says what it said', async () => {
    const { draw, outdated, asked } = tree();
    await draw();
    expect(await outdated()).toEqual([]);
    expect(asked).toEqual(['', 'north', 'north/floors', 'north/stock']);
  });

  it('is drawn anew at the row that says something else, which stays the same row', async () => {
    const { draw, outdated, holds, row } = tree();
    await draw();
    const second = row('north/floors/2');
    holds['north/floors'] = [leaf('north/floors/1', '2 units'), leaf('north/floors/2', '1 unit')];
    expect(await outdated()).toEqual(['north/floors/2']);
    expect(second).toEqual(leaf('north/floors/2', '1 unit'));
    expect(row('north/floors/2')).toBe(second);
    expect(await outdated()).toEqual([]);
  });

  it.each<[what: string, rows: Row[]]>([
    ['another row', [leaf('north/floors/1', '2 units'), leaf('north/floors/3', '1 unit')]],
    ['one row less', [leaf('north/floors/1', '2 units')]],
    ['its rows in another order', [leaf('north/floors/2', '1 unit', 'error'), leaf('north/floors/1', '2 units')]],
    ['a row that can be opened now', [branch('north/floors/1', '2 units'), leaf('north/floors/2', '1 unit', 'error')]],
  ])('is drawn anew at the branch that holds %s', async (_, rows) => {
    const { draw, outdated, holds, row } = tree();
    await draw();
    holds['north/floors'] = rows;
    expect(await outdated()).toEqual(['north/floors']);
    await draw(row('north/floors'));
    expect(await outdated()).toEqual([]);
  });

  it('does not ask for what will be drawn anew with the row above it', async () => {
    const { draw, outdated, holds, asked } = tree();
    await draw();
    holds.north = [branch('north/floors', '3'), branch('north/stock', '13 lengths')];
    expect(await outdated()).toEqual(['north/floors']);
    expect(asked).toEqual(['', 'north', 'north/stock']);
  });

  it('is drawn anew as a whole where another project is there', async () => {
    const { draw, outdated, holds, asked } = tree();
    await draw();
    holds[''] = [branch('north', '3 units'), branch('south', '2 units')];
    expect(await outdated()).toEqual(['']);
    expect(asked).toEqual(['']);
  });

  it('asks for nothing under a row that is shut, until it is opened again', async () => {
    const { draw, branches, outdated, holds, asked, row } = tree();
    await draw();
    branches.shut(row('north'));
    holds['north/floors'] = [];
    expect(await outdated()).toEqual([]);
    expect(asked).toEqual(['']);
    branches.opened(row('north'));
    expect(await outdated()).toEqual(['north/floors']);
  });

  it('asks for nothing before it was drawn, and for no branch that has gone', async () => {
    const { draw, outdated, holds, asked, row } = tree();
    expect(await outdated()).toEqual([]);
    await draw();
    holds.north = [branch('north/stock', '13 lengths')];
    expect(await outdated()).toEqual(['north']);
    await draw(row('north'));
    expect(await outdated()).toEqual([]);
    expect(asked).toEqual(['', 'north', 'north/stock']);
  });
});

describe('a row that is led to', () => {
  it('is the one that is drawn, and says what is drawn', async () => {
    const { draw, branches } = tree();
    const [north] = await draw();
    expect(branches.rowOf(branch('north', '4 units'))).toBe(north);
    expect(north).toEqual(branch('north', '3 units'));
  });

  it('leads on to those above it, whether they were drawn or not', () => {
    const branches = branchesOf<Row>();
    const path = [branch('north', '3 units'), branch('north/floors', '2'), leaf('north/floors/1', '2 units')];
    const [north, floors, first] = path.map(branches.rowOf);
    if (!north || !floors || !first) throw new Error('there is no row');
    expect(branches.above(first)).toBe(floors);
    expect(branches.above(floors)).toBe(north);
    expect(branches.above(north)).toBeUndefined();
  });
});
