/**
 * From a keystroke to the new drawing: the built server over standard input and output, on the example building and on
 * a large one. Printed, never asserted. Run with `node tests/bench/drawing.ts [UNITS]` after a build.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { AboutDrawing, ShownDrawing } from '../../server/protocol/features/drawing.ts';
import { type Client, endAll, startClient, uriOf } from '../protocol/client.ts';

const example = resolve(import.meta.dirname, '../../examples/quarry-lane');
const many = Number(process.argv[2] ?? 2000);
const rounds = 24;
/** Edits that come first and do not count. */
const warmup = 4;

interface Place {
  readonly folder: string;
  readonly file: string;
  /** What is typed over, and where the cursor stands. */
  readonly at: string;
  readonly values: readonly [string, string];
  readonly view?: string;
}

async function time(title: string, { folder, file, at, values, view }: Place): Promise<void> {
  const client = await startClient(folder);
  const uri = uriOf(join(folder, file));
  const text = readFileSync(join(folder, file), 'utf8');
  const before = text.slice(0, text.indexOf(at) + at.indexOf(values[0]));
  const [line, character] = [before.split('\n').length - 1, before.length - (before.lastIndexOf('\n') + 1)];
  await client.open(uri, text);
  const ask = (known?: number): Promise<ShownDrawing | null> =>
    client.connection.sendRequest<ShownDrawing | null>('storypole/drawing', {
      textDocument: { uri },
      position: { line, character },
      width: 200,
      height: 150,
      ...(view !== undefined && { view }),
      ...(known !== undefined && { known }),
    } satisfies AboutDrawing);
  let known = (await ask())?.sheet?.revision;
  const [edits, moves]: [number[], number[]] = [[], []];
  let size = 0;
  for (let i = 0; i < rounds; i++) {
    await new Promise((go) => setTimeout(go, 60));
    const [from, to] = i % 2 === 0 ? values : [values[1], values[0]];
    const started = performance.now();
    await type(client, uri, i + 2, [line, character], from, to);
    const drawn = await ask(known);
    edits.push(performance.now() - started);
    if (drawn?.sheet?.svg === undefined) throw new Error(`${title}: nothing new was drawn`);
    known = drawn.sheet.revision;
    size = drawn.sheet.svg.length;
    const moved = performance.now();
    if ((await ask(known))?.sheet?.svg !== undefined) throw new Error(`${title}: it was drawn twice`);
    moves.push(performance.now() - moved);
  }
  const told = [median(edits), worst(edits), median(moves)].map((ms) => ms.toFixed(1).padStart(7));
  process.stdout.write(`${title.padEnd(46)} ${told.join(' ')} ms  ${Math.round(size / 1024)} KB\n`);
  await client.shutDown();
}

function type(
  client: Client,
  uri: string,
  version: number,
  at: [number, number],
  from: string,
  to: string,
): Promise<void> {
  return client.change(uri, version, [{ from: at, to: [at[0], at[1] + from.length], text: to }]);
}

const counted = (times: readonly number[]): number[] => times.slice(warmup).sort((a, b) => a - b);
const median = (times: readonly number[]): number => counted(times)[Math.floor((times.length - warmup) / 2)] ?? 0;
const worst = (times: readonly number[]): number => counted(times).at(-1) ?? 0;

/** Units on units of one template, each of a width of its own. */
function building(units: number): string {
  const folder = mkdtempSync(join(tmpdir(), 'storypole-drawing-'));
  for (const name of ['project.closet', 'materials.closet', 'hardware.closet', 'garments.closet']) {
    try {
      writeFileSync(join(folder, name), readFileSync(join(example, name)));
    } catch {
      // The example may keep them together.
    }
  }
  mkdirSync(join(folder, 'templates'));
  writeFileSync(join(folder, 'templates/reach-in.closet'), readFileSync(join(example, 'templates/reach-in.closet')));
  const lines = Array.from(
    { length: units },
    (_, i) => `unit U-${i} reach-in { floor 1; width ${93 + (i % 64) / 64}in }`,
  );
  writeFileSync(join(folder, 'units.closet'), `${lines.join('\n')}\n`);
  return folder;
}

const shelf = { file: 'templates/reach-in.closet', at: 'shelf low { at 42in }', values: ['42in', '41in'] } as const;
const unit = { at: 'width 93in', file: 'units.closet', values: ['93in', '95in'] } as const;
const large = building(many);
process.stdout.write(`${''.padEnd(46)}  median   worst   moved\n`);
try {
  for (const view of ['elevation back', 'plan', 'section shirts'])
    await time(`a shelf of a template, 72 units, ${view}`, { folder: example, ...shelf, view });
  await time(`a width of one of ${many} units`, { folder: large, ...unit });
  await time(`a shelf of a template of ${many} units`, { folder: large, ...shelf });
} finally {
  endAll();
  rmSync(large, { recursive: true, force: true });
}
