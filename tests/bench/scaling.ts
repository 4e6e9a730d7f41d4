/**
 * How work grows with what it is about: each dimension of the input is doubled some times, and a power is fitted to the
 * processor time of this thread (least squares on logarithms). 1 is linear, 2 the square; above 1.2 is a defect, which
 * makes the exit code 1. `node tests/bench/scaling.ts [words of a name]`.
 */
import { writeSync } from 'node:fs';
import { formattingOf } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { lensesOf } from '../../server/language/code-lens.ts';
import { completionsAt } from '../../server/language/completion.ts';
import { byFile, diagnosticOf } from '../../server/language/diagnostics.ts';
import { hoverAt } from '../../server/language/hover.ts';
import { hintsIn } from '../../server/language/inlay-hints.ts';
import { referencesAt } from '../../server/language/references.ts';
import { renameAt } from '../../server/language/rename.ts';
import { tokensIn } from '../../server/language/semantic-tokens.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { noMapping } from '../../server/language/survey-import/columns.ts';
import { importSurvey, tableIn } from '../../server/language/survey-import/survey-import.ts';
import { symbolsOf } from '../../server/language/symbols.ts';
import { symbolsNamed } from '../../server/language/workspace-symbols.ts';
import { createMemoryFiles } from '../../server/model/memory-files.ts';
import type { Project } from '../../server/model/project.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { compare } from '../../server/sheets/compare/compare.ts';
import { drawableOf, drawingsOf } from '../../server/sheets/drawing/drawings.ts';
import { placeWithin } from '../../server/sheets/drawing/place.ts';
import { exceptionsOf } from '../../server/sheets/exceptions.ts';
import { takeoffOf } from '../../server/sheets/takeoff.ts';
import { manyUnits } from './texts.ts';

const worst = 1.2;

interface Case {
  readonly name: string;
  readonly sizes: readonly number[];
  /** Makes what is needed, which does not count, and answers what does. */
  readonly make: (n: number) => () => unknown;
}

const path = '/p/all.closet';

function opened(text: string): {
  readonly snapshot: Snapshot;
  readonly edit: (at: number, old: string, put: string) => void;
} {
  const workspace = createWorkspace(createMemoryFiles(), []);
  const { project } = workspace.openDocument(path, text);
  project.refreshNow();
  const source = project.sources.get(path);
  if (!source) throw new Error('there is no such file');
  return {
    snapshot: { project, source, path },
    edit(at, old, put) {
      workspace.editDocument(path, [{ start: at, end: at + old.length, text: put }]);
      project.refreshNow();
      project.findings();
    },
  };
}

const projectFrom = (text: string): Project => opened(text).snapshot.project;
const cold = (text: string) => () => projectFrom(text).findings();
const list = (n: number, line: (i: number) => string): string => Array.from({ length: n }, (_, i) => line(i)).join('');

const head = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock white-12 { length 12ft }
stock chrome { length 12ft }
`;

const closet = (inside: string, height = '96in'): string =>
  `template t {\n  parameter width: length = 60in from 30in to 120in\n  board white-12\n  pole chrome\n  wall back { length width; height ${height} }\n${inside}}\n`;

const plain = closet('  zone a on back { width fill; shelf s { at 84in }; rod r { under s by 3in; for shirt } }\n');

/** Zones that hold others, each in a range, two deep, on one wall. */
const nestedOf = (n: number): string =>
  `${head}template t {\n  wall back { length ${n * 20}in; height 96in }\n${list(
    n,
    (i) =>
      `  zone a${i} on back${i > 0 ? ` after a${i - 1}` : ''} { width from 2in to 40in; zone b { width from 1in to 30in; zone c { width 3in }; zone d after c { width share at least 4in }; zone e after d { width share } } }\n`,
  )}  gap g on back after a${n - 1} { width fill }\n}\nunit u t\n`;

/** Each of another width, so that none is computed for another. */
const units = (n: number): string =>
  head +
  plain +
  list(n, (i) => `unit u${i} t { floor ${i % 9}; flat A-${i}; width ${(30 + (i % 5760) / 64).toFixed(6)}in }\n`);

const wallOf = (n: number): string =>
  `${head}template t {\n  board white-12\n  pole chrome\n  wall back { length ${n * 24}in; height 96in }\n${list(
    n,
    (i) =>
      `  zone z${i} on back ${i > 0 ? `after z${i - 1} ` : ''}{ width 24in; shelf s { at 84in }; rod r { under s by 3in; for shirt } }\n`,
  )}}\nunit u t\n`;

const shelvesOf = (n: number): string =>
  `${head}${closet(`  zone a on back { width fill\n${list(n, (i) => `    shelf s${i} { at ${6 + i * 8}in }\n`)}  }\n`, `${n * 8 + 12}in`)}unit u t\n`;

/** Each wall measured, no two alike. */
const measured = (n: number, surveys = n): string =>
  `${head}template t {
  parameter width: length = 60in from 30in to 120in
  board white-12
  wall left { length 24in; height 96in }
  wall back { length width; height 96in }
  wall right { length 24in; height 96in }
  wall front { length width; height 96in }
  zone a on back { width fill; shelf s { at 84in } }
}
${list(n, (i) => `unit u${i} t { floor ${i % 9}; width 60in }\n`)}${list(
  surveys,
  (i) => `survey u${i} { wall back { length ${(1510 + i / 100).toFixed(2)}mm at 6in } }\n`,
)}`;

const mistakes = (n: number): string => head + plain + list(n, (i) => `unit u${i} t { flor ${i}; width 3in }\n`);

const shared = `${head}${plain}`;

function files(n: number): () => unknown {
  const memory = createMemoryFiles();
  const bytes = new TextEncoder();
  memory.put('/p/shared.closet', { kind: 'read', bytes: bytes.encode(shared) });
  for (let i = 0; i < n; i++)
    memory.put(`/p/f${i}.closet`, {
      kind: 'read',
      bytes: bytes.encode(`unit u${i} t { floor 1; width ${30 + (i % 64)}in }\n`),
    });
  return () => {
    const workspace = createWorkspace(memory, ['/p']);
    workspace.loadFolder('/p');
    for (const { project } of workspace.projects) project.refreshNow();
    return workspace.projects.flatMap(({ project }) => project.findings());
  };
}

/** So many edits one after another, half of which make a mistake that the other half mend. */
function edits(n: number, text: string, at: number, old: string, put: string): () => void {
  const { edit } = opened(text);
  return () => {
    for (let i = 0; i < n; i++) edit(at, i % 2 === 0 ? old : put, i % 2 === 0 ? put : old);
  };
}

const middle = (text: string): number => text.indexOf('in\n', Math.floor(text.length / 2));
const all = { start: 0, end: Number.MAX_SAFE_INTEGER };
const asked = (text: string, ask: (snapshot: Snapshot) => unknown): (() => unknown) => {
  const { snapshot } = opened(text);
  return () => ask(snapshot);
};

function surveyTable(n: number): () => unknown {
  const { snapshot } = opened(measured(n, 0));
  const csv = `unit,back\n${list(n, (i) => `u${i},${59 + (i % 100) / 100}in\n`)}`;
  const bytes = new TextEncoder().encode(csv);
  return () => {
    const table = tableIn(bytes, 'site.csv');
    if (!('sheet' in table)) throw new Error('no table');
    const made = importSurvey(table.sheet, { project: snapshot.project, mapping: noMapping });
    if (made.kind !== 'imported') throw new Error(`refused: ${JSON.stringify(made).slice(0, 300)}`);
    return made;
  };
}

function drawn(text: string): () => unknown {
  const project = projectFrom(text);
  const [unit] = project.units();
  return () => {
    const drawable = unit && drawableOf(project, unit, 'inches');
    if (!drawable) throw new Error('nothing to draw');
    return drawingsOf(drawable, { walls: ['back'] }).map(({ scene }) => placeWithin(scene, 380, 250));
  };
}

const cases: readonly Case[] = [
  // What a file is made of
  {
    name: 'lines, read',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const text = manyUnits(n);
      return () => new Source('s', text, topWords);
    },
  },
  {
    name: 'lines, formatted',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const source = new Source('s', manyUnits(n), topWords);
      return () => formattingOf(source);
    },
  },
  {
    name: 'lines of one declaration, read',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => {
      const text = wallOf(n);
      return () => new Source('s', text, topWords);
    },
  },
  {
    name: 'lines of one declaration, formatted',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => {
      const source = new Source('s', wallOf(n), topWords);
      return () => formattingOf(source);
    },
  },
  {
    name: 'letters in one line',
    sizes: [50_000, 100_000, 200_000, 400_000],
    make: (n) => {
      const text = `${head}template t { zone ${'a '.repeat(n / 2)} }\n`;
      return () => new Source('s', text, topWords);
    },
  },
  {
    name: 'letters of one text',
    sizes: [200_000, 400_000, 800_000, 1_600_000],
    make: (n) => cold(`project "${'a'.repeat(n)}" { kerf 1/8in }\n`),
  },
  {
    name: 'comment lines',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const text = list(n, (i) => `// ${i}\n`) + head;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'empty lines',
    sizes: [20_000, 40_000, 80_000, 160_000],
    make: (n) => {
      const text = '\n'.repeat(n) + head;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'opening braces',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const text = `${head}${'a {\n'.repeat(n)}`;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'closing braces',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const text = `${head}${'}\n'.repeat(n)}`;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'comments that are not closed',
    sizes: [2000, 4000, 8000, 16_000],
    make: (n) => {
      const text = `${head}${'unit a /*\n'.repeat(n)}`;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'quotation marks that are not closed',
    sizes: [2000, 4000, 8000, 16_000],
    make: (n) => {
      const text = `${head}${'unit "a\n'.repeat(n)}`;
      return () => formattingOf(new Source('s', text, topWords));
    },
  },
  {
    name: 'words of no language',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => cold(`${head}${list(n, (i) => `wrod${i} x\n`)}`),
  },
  // A building
  { name: 'units, each of its own', sizes: [500, 1000, 2000, 4000], make: (n) => cold(units(n)) },
  {
    name: 'units, alike',
    sizes: [2000, 4000, 8000, 16_000],
    make: (n) => cold(head + plain + list(n, (i) => `unit u${i} t { floor 1; width 40in }\n`)),
  },
  {
    name: 'units of one name',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => cold(head + plain + list(n, () => 'unit u t { floor 1; width 40in }\n')),
  },
  {
    name: 'templates',
    sizes: [250, 500, 1000, 2000],
    make: (n) => cold(head + list(n, (i) => plain.replace('template t ', `template t${i} `))),
  },
  { name: 'templates of one name', sizes: [250, 500, 1000, 2000], make: (n) => cold(head + plain.repeat(n)) },
  { name: 'units with a survey', sizes: [250, 500, 1000, 2000], make: (n) => cold(measured(n)) },
  { name: 'zones in a wall', sizes: [64, 125, 250, 500, 1000], make: (n) => cold(wallOf(n)) },
  { name: 'zones in zones in ranges', sizes: [64, 125, 250, 500], make: (n) => cold(nestedOf(n)) },
  { name: 'fittings up a zone', sizes: [64, 125, 250, 500], make: (n) => cold(shelvesOf(n)) },
  {
    name: 'shelves in a row',
    sizes: [16, 32, 64, 125],
    make: (n) =>
      cold(
        `${head}${closet(`  zone a on back { width fill; shelf bottom { at 6in }; shelf top { at ${n * 8 + 20}in }; shelves loose between bottom and top { count ${n} } }\n`, `${n * 8 + 40}in`)}unit u t\n`,
      ),
  },
  {
    name: 'parameters',
    sizes: [25, 50, 100, 200],
    make: (n) =>
      cold(
        `${head}template t {\n${list(n, (i) => `  parameter p${i}: length = 10in from 5in to 20in\n`)}  board white-12\n  wall back { length 60in; height 96in }\n  zone a on back { width fill; shelf s { at 84in } }\n}\nunit u t {\n${list(n, (i) => `  p${i} 12in\n`)}}\n`,
      ),
  },
  {
    name: 'overrides in units',
    sizes: [250, 500, 1000, 2000],
    make: (n) =>
      cold(units(0) + list(n, (i) => `unit u${i} t { floor 1; width 60in; a.s { at ${70 + (i % 160) / 16}in } }\n`)),
  },
  {
    name: 'templates that extend one another',
    sizes: [4, 8, 16],
    make: (n) =>
      cold(
        head +
          plain.replace('template t ', 'template t0 ') +
          list(n, (i) => `template t${i + 1} extends t${i} { a.s { at ${80 + (i % 4)}in } }\n`),
      ),
  },
  {
    name: 'materials',
    sizes: [500, 1000, 2000, 4000],
    make: (n) =>
      cold(head + list(n, (i) => `board b${i} { depth 12in; thickness 3/4in }\nstock b${i} { length 8ft }\n`)),
  },
  {
    name: 'terms of a sum',
    sizes: [60, 120, 240, 480],
    make: (n) =>
      cold(
        `${head}${closet(`  zone a on back { width ${Array.from({ length: n }, () => '1/16in').join(' + ')}; shelf s { at 84in } }\n`)}unit u t\n`,
      ),
  },
  {
    name: 'findings',
    sizes: [1000, 2000, 4000],
    make: (n) => {
      const project = projectFrom(mistakes(n));
      return () => [...byFile(project.findings()).values()].flatMap((found) => found.map(diagnosticOf));
    },
  },
  { name: 'findings, cold', sizes: [500, 1000, 2000, 4000], make: (n) => cold(mistakes(n)) },
  { name: 'files', sizes: [250, 500, 1000, 2000], make: files },
  // Edits
  {
    name: 'edits of a unit among 2,000',
    sizes: [100, 200, 400, 800],
    make: (n) => {
      const text = units(2000);
      const at = text.indexOf('in }', text.length / 2);
      return edits(n, text, at, 'in', 'ix');
    },
  },
  {
    name: 'lines, one edit',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => {
      const text = manyUnits(n);
      return edits(20, text, middle(text), 'in', 'ix');
    },
  },
  {
    name: 'zones in a wall, one edit',
    sizes: [64, 125, 250, 500, 1000],
    make: (n) => {
      const text = wallOf(n);
      return edits(4, text, text.indexOf('24in;', text.length / 2), '24in', '23in');
    },
  },
  {
    name: 'units of an edited template',
    sizes: [500, 1000, 2000, 4000],
    make: (n) => {
      const text = units(n);
      return edits(2, text, text.indexOf('84in'), '84in', '83in');
    },
  },
  {
    name: 'lines, a brace at the top',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => edits(2, manyUnits(n), 0, '', '{'),
  },
  {
    name: 'lines, a comment at the top',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => edits(2, manyUnits(n), 0, '', '/*'),
  },
  // What an editor asks
  { name: 'symbols of lines', sizes: [4000, 8000, 16_000, 32_000], make: (n) => asked(manyUnits(n), symbolsOf) },
  {
    name: 'tokens of lines',
    sizes: [4000, 8000, 16_000, 32_000],
    make: (n) => asked(manyUnits(n), (s) => tokensIn(s, all)),
  },
  {
    name: 'hints of zones',
    sizes: [64, 125, 250, 500],
    make: (n) => asked(wallOf(n), (s) => hintsIn(s, all, new Set(['width', 'height', 'cut', 'value', 'default']))),
  },
  {
    name: 'lenses of units',
    sizes: [500, 1000, 2000, 4000],
    make: (n) =>
      asked(units(n), (s) =>
        lensesOf(s, new Set(['uses', 'boards', 'savings', 'stock']), () => undefined).map((lens) => lens.say()),
      ),
  },
  {
    name: 'references among units',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => asked(units(n), (s) => referencesAt(s, s.source.text.indexOf('template t {') + 9)),
  },
  {
    name: 'rename among units',
    sizes: [250, 500, 1000, 2000],
    make: (n) => asked(units(n), (s) => renameAt(s, s.source.text.indexOf('template t {') + 9, 'other')),
  },
  {
    name: 'symbols by name',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => asked(units(n), (s) => symbolsNamed([s.project], 'u1')),
  },
  {
    name: 'hover in a wall of zones',
    sizes: [64, 125, 250, 500],
    make: (n) => asked(wallOf(n), (s) => hoverAt(s, s.source.text.indexOf('width 24in', s.source.length / 2) + 7)),
  },
  {
    name: 'completion in a wall of zones',
    sizes: [64, 125, 250, 500],
    make: (n) =>
      asked(wallOf(n), (s) => completionsAt(s, s.source.text.indexOf('width 24in', s.source.length / 2) + 6)),
  },
  // What is cut, drawn and listed
  {
    name: 'cutting: pieces, first fit',
    sizes: [500, 1000, 2000, 4000],
    make: (n) => {
      const project = projectFrom(units(n));
      return () => planProject(project);
    },
  },
  {
    name: 'cutting: demand of units',
    sizes: [1000, 2000, 4000, 8000],
    make: (n) => {
      const project = projectFrom(units(n));
      return () => demandOf(project);
    },
  },
  { name: 'drawing: zones in a wall', sizes: [125, 250, 500, 1000], make: (n) => drawn(wallOf(n)) },
  { name: 'drawing: fittings up a zone', sizes: [64, 125, 250, 500], make: (n) => drawn(shelvesOf(n)) },
  {
    name: 'compared: units',
    sizes: [500, 1000, 2000, 4000],
    make: (n) => {
      const [a, b] = [projectFrom(units(n)), projectFrom(units(n).replace('at 84in', 'at 83in'))];
      const side = (project: Project) => ({ project, planned: planProject(project) });
      return () => compare(side(a), side(b));
    },
  },
  {
    name: 'takeoff of units',
    sizes: [500, 1000, 2000, 4000],
    make: (n) => {
      const project = projectFrom(units(n));
      return () => takeoffOf(project.units());
    },
  },
  {
    name: 'exceptions of measured units',
    sizes: [250, 500, 1000, 2000],
    make: (n) => {
      const project = projectFrom(measured(n));
      return () => exceptionsOf(project);
    },
  },
  { name: 'rows of a survey table', sizes: [250, 500, 1000, 2000], make: surveyTable },
];

/** Milliseconds of work that a figure rests on at least, and how often it is tried for at the most. */
const enough = 120;
const mostTries = 40;
const patience = 6000;

/**
 * Milliseconds of this thread, the mean of some runs, each made anew, as much is remembered. The system counts a
 * thread's time in steps of some milliseconds, so one run says little.
 */
function timed({ make }: Case, n: number): number {
  let spent = 0;
  let tries = 0;
  for (const until = performance.now() + patience; tries < 3 || (spent < enough && tries < mostTries); tries++) {
    if (tries > 0 && performance.now() > until) break;
    const work = make(n);
    const before = process.threadCpuUsage();
    work();
    const { user, system } = process.threadCpuUsage(before);
    spent += (user + system) / 1000;
  }
  return spent / tries;
}

/** The slope of a line through points on logarithmic axes, by least squares. */
function exponentOf(points: readonly (readonly [n: number, ms: number])[]): number {
  const logs = points.map(([n, ms]) => [Math.log(n), Math.log(Math.max(ms, 0.01))] as const);
  const mean = (of: (p: readonly [number, number]) => number): number =>
    logs.reduce((sum, p) => sum + of(p), 0) / logs.length;
  const [mx, my] = [mean(([x]) => x), mean(([, y]) => y)];
  const over = logs.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0);
  return over / logs.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
}

const lesser = <T extends { readonly exponent: number }>(a: T, b: T): T => (b.exponent < a.exponent ? b : a);

const wanted = process.argv.slice(2).join(' ');
let above = 0;
for (const one of cases) {
  if (!one.name.includes(wanted)) continue;
  // What the engine has not compiled yet would flatter the small ones.
  for (let i = 0; i < 2; i++) one.make(one.sizes[0] as number)();
  const measured = () => {
    const points = one.sizes.map((n) => [n, timed(one, n)] as const);
    return { points, exponent: exponentOf(points) };
  };
  // What is above is measured once more: that all of the heap was collected during the largest is no growth of the work.
  const first = measured();
  const { points, exponent } = first.exponent > worst ? lesser(first, measured()) : first;
  if (exponent > worst) above++;
  const times = points
    .map(([n, ms]) => `${n.toLocaleString('en')}: ${ms < 10 ? ms.toFixed(2) : ms.toFixed(0)}`)
    .join(', ');
  // At once, also where it ends in a file.
  writeSync(1, `${exponent > worst ? 'ABOVE' : '     '} ${exponent.toFixed(2)}  ${one.name} (ms at ${times})\n`);
}
process.exitCode = above > 0 ? 1 : 0;
