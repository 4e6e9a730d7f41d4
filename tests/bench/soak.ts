/**
 * An hour of an editor: the built server on a large project, somebody who types and mends mistakes about five times a
 * second, and all that an editor asks meanwhile. Every minute it prints latencies and memory after a collection, at the
 * end their trends; then what the server says is compared with what one says that is started on the same texts.
 *
 *   npm run soak -- --minutes 60 --units 10000 [--seed 1] [--pace 5] [--edits 1000] [--snapshots FOLDER]
 *
 * A snapshot makes the server's process several times as large for good: with them, what is resident says nothing.
 *
 * Nothing is asserted of milliseconds or megabytes. Ends with 1 where the server said anything else than a cold one, or
 * a request failed, or anything was logged as an error.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { createAsker } from './soak/asking.ts';
import { quantile, randomFrom, trendSaid } from './soak/figures.ts';
import type { Memory } from './soak/inspector.ts';
import { projectFiles } from './soak/project.ts';
import { type Session, shown, startSession } from './soak/session.ts';
import { createTypist, type Document } from './soak/typist.ts';

const option = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? undefined : process.argv[at + 1];
};
const minutes = Number(option('minutes') ?? 60);
const units = Number(option('units') ?? 10_000);
const seed = Number(option('seed') ?? 20261128);
/** So many edits a second, on average. */
const pace = Number(option('pace') ?? 5);
/** Ends after so many edits, whatever the time. */
const most = Number(option('edits') ?? Number.POSITIVE_INFINITY);
const snapshots = option('snapshots');

const mostOpen = 6;
const random = randomFrom(seed);
const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)];

const folder = mkdtempSync(join(tmpdir(), 'storypole-soak-'));
const files = projectFiles(units);
const save = (file: string, text: string): void => {
  mkdirSync(dirname(join(folder, file)), { recursive: true });
  writeFileSync(join(folder, file), text);
};
for (const [file, text] of files) save(file, text);

let isOn = true;
const settings = () => ({ inlayHints: { widths: isOn }, codeLens: { boards: isOn } });
const open = new Map<string, Document>();
const versions = new Map<string, number>();
const session = await startSession(folder, settings);
const { connection, uriOf } = session;
const typist = createTypist(connection, random);
const asker = createAsker(connection, random);

interface Minute {
  readonly edits: number;
  readonly diagnostics: readonly number[];
  readonly hovers: readonly number[];
  readonly memory: Memory;
  /** Processor time of the server since the minute before, in milliseconds. */
  readonly busy: number;
}
const table: Minute[] = [];
let before = 0;
let now = { edits: 0, diagnostics: [] as number[], hovers: [] as number[] };

async function openFile(file: string | undefined): Promise<void> {
  if (file === undefined) return;
  // Versions rise over all openings, so that what was told of an earlier one is not taken for an answer.
  const next = (versions.get(file) ?? 0) + 1;
  const document = { file, uri: uriOf(file), text: files.get(file) ?? '', version: next, mistakes: [], added: [] };
  open.set(file, document);
  const { uri, version, text } = document;
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'closet', version, text },
  });
}

async function closeFile(document: Document | undefined): Promise<void> {
  if (!document) return;
  open.delete(document.file);
  versions.set(document.file, document.version);
  // Half of them are saved with what was done, mistakes and all; of the others that is given up.
  const isSaved = random() < 0.5 && document.mistakes.length === 0;
  if (isSaved) {
    files.set(document.file, document.text);
    save(document.file, document.text);
  }
  await connection.sendNotification('textDocument/didClose', { textDocument: { uri: document.uri } });
  if (isSaved) await changed(document.file, 2);
}

function changed(file: string, type: 1 | 2 | 3): Promise<void> {
  return connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(file), type }] });
}

/** Somebody else changes a file, as a checkout of another branch does, or makes one and takes it away. */
async function changeOnDisk(): Promise<void> {
  const turn = random();
  const extra = [...files.keys()].filter((file) => file.startsWith('extra/'));
  if (turn < 0.3 && extra.length < 3) {
    const file = `extra/more-${Math.floor(random() * 1000)}.closet`;
    files.set(file, `unit extra-${file.replaceAll(/\D/g, '')} t1 { width 9${Math.floor(random() * 9)}in }\n`);
    save(file, files.get(file) ?? '');
    await changed(file, 1);
    return;
  }
  if (turn < 0.5 && extra.length > 0) {
    const file = pick(extra);
    if (file === undefined || open.has(file)) return;
    files.delete(file);
    rmSync(join(folder, file));
    await changed(file, 3);
    return;
  }
  const file = pick([...files.keys()].filter((one) => one.startsWith('floors/') && !open.has(one)));
  if (file === undefined) return;
  const text = (files.get(file) ?? '').replace(/(?<=width )9\din/, `${92 + Math.floor(random() * 7)}in`);
  files.set(file, text);
  save(file, text);
  await changed(file, 2);
}

/** One edit was made: what an editor asks after it. */
function after(document: Document, offset: number): void {
  now.edits++;
  const minute = now;
  const from = performance.now();
  void session.toldOf(document.uri, document.version).then(() => minute.diagnostics.push(performance.now() - from));
  if (random() < 0.4) {
    void asker.hover(document, Math.max(0, offset - 1)).then((took) => {
      if (took !== undefined) minute.hovers.push(took);
    });
  }
  while (random() < 0.4) asker.ask(document, offset);
}

/** Of two answers, where they part. */
function firstDifference(warm: unknown, cold: unknown): string[] {
  const [a, b] = [warm, cold].map((answer) => (JSON.stringify(answer) ?? 'nothing').split(/(?<=[,\]}])/));
  const at = a?.findIndex((part, i) => part !== b?.[i]) ?? 0;
  return [a, b].map(
    (parts) => `  at part ${at} of ${parts?.length}: ${parts?.slice(Math.max(0, at - 5), at + 10).join('')}`,
  );
}

async function tellMinute(): Promise<void> {
  const { edits, diagnostics, hovers } = now;
  now = { edits: 0, diagnostics: [], hovers: [] };
  const memory = await session.inspector.memory();
  const busy = memory.processor - before;
  before = memory.processor;
  table.push({ edits, diagnostics, hovers, memory, busy });
  const both = (values: readonly number[]): string =>
    `${quantile(values, 0.5).toFixed(1).padStart(7)} ${quantile(values, 0.95).toFixed(1).padStart(7)}`;
  const megabytes = [memory.heap, memory.code, memory.resident, memory.external]
    .map((m) => m.toFixed(1).padStart(8))
    .join('');
  const minute = String(table.length).padStart(3);
  const each = (busy / edits).toFixed(1).padStart(7);
  console.log(
    `${minute} ${String(edits).padStart(6)}   ${both(diagnostics)}   ${both(hovers)}   ${each}   ${megabytes}`,
  );
}

/** Nothing is being computed any more, and nothing new is told. */
async function quiet({ plan, told, connection: asked }: Session): Promise<void> {
  for (let same = 0, last = ''; same < 3; ) {
    await asked.sendRequest('storypole/units', {});
    await pause(1500);
    const state = `${plan()} ${[...told.values()].reduce((sum, list) => sum + list.length, 0)}`;
    same = state === last && plan() !== 'planning' ? same + 1 : 0;
    last = state;
  }
}

const names = [...files.keys()];
for (const file of ['templates.closet', 'floors/floor-0.closet', 'surveys/survey-0.closet']) await openFile(file);
await quiet(session);
if (snapshots) mkdirSync(snapshots, { recursive: true });

console.log(`${units} units in ${names.length} files, ${minutes} minutes, seed ${seed}`);
console.log(
  'min  edits   edit to diagnostics, ms   hover, ms       processor   heap after collection, code in it, resident, external, MB',
);
console.log('              median     95 %    median     95 %    ms an edit');
before = (await session.inspector.memory()).processor;
const begin = performance.now();
let made = 0;
const isOver = (): boolean => made >= most || performance.now() - begin > minutes * 60_000;
let snapshotAt = Math.min(3, Math.floor(minutes / 3));
while (!isOver()) {
  const document = pick([...open.values()]) as Document;
  for (const offset of typist.next(document)) {
    after(document, offset);
    made++;
    await pause(((0.3 + 1.4 * random()) * 1000) / pace);
  }
  const turn = random();
  if (turn < 0.03 && open.size < mostOpen) await openFile(pick(names.filter((file) => !open.has(file))));
  else if (turn < 0.06 && open.size > 2) await closeFile(pick([...open.values()]));
  else if (turn < 0.09) await changeOnDisk();
  else if (turn < 0.1) {
    isOn = !isOn;
    await connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
  }
  // Time to think, in which a plan is made.
  else if (turn < 0.13) await pause(((5 + 20 * random()) * 1000) / pace);
  if (performance.now() - begin > (table.length + 1) * 60_000) {
    await tellMinute();
    if (snapshots && table.length === snapshotAt) {
      await session.inspector.snapshot(join(snapshots, `minute-${snapshotAt}.heapsnapshot`));
      snapshotAt *= 2;
    }
  }
}

// The first quarter fills what is kept of late.
const settled = table.slice(Math.floor(table.length / 4));
const line = (what: string, unit: string, of: (minute: Minute) => number, minutes = settled): void =>
  console.log(trendSaid(what, unit, minutes.map(of)));
console.log(`\nTrends, without the first ${table.length - settled.length} minutes (in brackets: 95 %)`);
// A table that doubles once is a step on the way, and a straight line through it would go on rising.
const half = table.slice(Math.floor(table.length / 2));
for (const [when, minutes] of [
  ['', settled],
  [`, the last ${half.length} minutes`, half],
] as const) {
  line(`heap after collection${when}`, 'MB', ({ memory }) => memory.heap, minutes);
  line(`the same without machine code${when}`, 'MB', ({ memory }) => memory.heap - memory.code, minutes);
  line(`resident${when}`, 'MB', ({ memory }) => memory.resident, minutes);
}
line('external', 'MB', ({ memory }) => memory.external);
line('processor time of the server, planner and all that is asked, an edit', 'ms', ({ busy, edits }) => busy / edits);
line('edit to diagnostics, median', 'ms', ({ diagnostics }) => quantile(diagnostics, 0.5));
line('edit to diagnostics, 95 %', 'ms', ({ diagnostics }) => quantile(diagnostics, 0.95));
line('hover, median', 'ms', ({ hovers }) => quantile(hovers, 0.5));
line('hover, 95 %', 'ms', ({ hovers }) => quantile(hovers, 0.95));
console.log(
  `${table.reduce((sum, { edits }) => sum + edits, 0)} edits, ${asker.asked()} requests, ${asker.failures.length} failures, ${session.faults.length} lines of errors`,
);

// The same texts, cold.
await quiet(session);
const documents = [...open.values()];
const warmShown = await shown(
  session,
  documents.map(({ file }) => file),
);
const warm = new Map([...session.told].filter(([, list]) => list.length > 0));
await session.stop();
const cold = await startSession(folder, settings);
for (const { uri, text } of documents)
  await cold.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'closet', version: 1, text },
  });
await quiet(cold);
const coldShown = await shown(
  cold,
  documents.map(({ file }) => file),
);
const differ: string[] = [];
for (const uri of new Set([...warm.keys(), ...cold.told.keys()])) {
  const [a, b] = [warm.get(uri) ?? [], cold.told.get(uri) ?? []];
  if (isDeepStrictEqual(a, b)) continue;
  differ.push(`diagnostics of ${uri}: ${a.length} warm, ${b.length} cold`);
  const only = (of: typeof a, other: typeof b) => of.find((one) => !other.some((two) => isDeepStrictEqual(one, two)));
  differ.push(`  warm only: ${JSON.stringify(only(a, b))}`, `  cold only: ${JSON.stringify(only(b, a))}`);
}
for (const [what, value] of warmShown)
  if (!isDeepStrictEqual(value, coldShown.get(what))) differ.push(what, ...firstDifference(value, coldShown.get(what)));
const { heap, code } = await cold.inspector.memory();
console.log(`heap of a cold server on the same texts: ${heap.toFixed(1)} MB, ${code.toFixed(1)} of it machine code`);
await cold.stop();
rmSync(folder, { recursive: true, force: true });

// For whoever looks into it: the texts as they were.
if (differ.length > 0) {
  const kept = mkdtempSync(join(tmpdir(), 'storypole-soak-differs-'));
  for (const { file, text } of documents) writeFileSync(join(kept, file.replaceAll('/', '-')), text);
  differ.push(`The open texts are in ${kept}.`);
}
const compared = [...warm.values()].reduce((sum, list) => sum + list.length, 0);
console.log(
  differ.length === 0
    ? `All ${compared} diagnostics of ${warm.size} files, and ${warmShown.size} answers, are those of a cold server.`
    : `Not as a cold server says it:\n${differ.join('\n')}`,
);
for (const line of [...new Set([...asker.failures, ...session.faults])].slice(0, 40)) console.log(line);
process.exitCode = differ.length + asker.failures.length + session.faults.length > 0 ? 1 : 0;
