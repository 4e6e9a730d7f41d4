/** The small readers: what stands in a file beside the layouts, on a command line, or between the markers of a merge. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { conflictsIn, mayConflict } from '../../../grammar/merge-markers.ts';
import { planProject } from '../../../server/checks/analysis.ts';
import { readBaseline } from '../../../server/cli/ci/baseline.ts';
import { documentOf } from '../../../server/cli/json.ts';
import { planJson } from '../../../server/cli/json-plan.ts';
import { readLength } from '../../../server/cli/length-text.ts';
import { lengthsAsked } from '../../../server/cli/plan-csv.ts';
import { Stop } from '../../../server/cli/stop.ts';
import { firstFit } from '../../../server/cutting/first-fit.ts';
import { verifiedPlan } from '../../../server/cutting/verified.ts';
import { NotAReport, verifyReport } from '../../../server/cutting/verify-report.ts';
import { readAngle, readLength as readCell } from '../../../server/language/survey-import/lengths.ts';
import { decode } from '../../../server/model/decode.ts';
import { smallProject } from '../../model/small-project.ts';
import { joined, type Part, partsOf } from '../case.ts';
import { mutatedParts } from '../mutate.ts';
import { diskOf, loadedFrom } from '../projects.ts';
import { holds, type Target } from '../target.ts';
import { conflictsPlainly } from './markers.ts';

/** As `storypole plan --format json` writes it. */
function report(): string {
  const [loaded] = loadedFrom(diskOf(new Map(Object.entries(smallProject)))).projects;
  if (!loaded) throw new Error('no project');
  const { project } = loaded;
  const planned = planProject(project, firstFit);
  const told = planJson(
    { title: 'Quarry Lane', root: '/p' },
    { planned, settings: project.settings, findings: [] },
    String,
  );
  return JSON.stringify(documentOf('plan', { projects: [told] }), undefined, 1);
}

export const readers: Target = {
  name: 'readers',
  seeds: () => [
    joined([
      {
        name: 'plan.csv',
        text: 'what,material,length,count,price,matched\npart,oak,22-1/2in,48,,\npart,oak,15in,2,,fronts\nstock,oak,8ft,,18.90,\noffcut,oak,50in,2,,\nkept,oak,1ft,,1.20,\nspare,oak,10in to 24in,6,,\n',
      },
    ]),
    joined([{ name: 'plan.csv', text: 'what;material;length mm;count\npart;oak;"571,5";4\nstock;oak;2440;\n' }]),
    joined([{ name: 'report.json', text: report() }]),
    joined([
      {
        name: 'baseline.json',
        text: JSON.stringify(
          { version: 1, findings: [{ fingerprint: 'a', rule: 'b', file: 'c', message: 'd' }] },
          undefined,
          1,
        ),
      },
    ]),
    joined([
      { name: 'lengths', text: '84-3/4in\n6ft 3-1/2in\n1200mm\n6\'-3 1/2"\n(3in + 4in) * 2\n93,75\n1.234,5 mm\n90.5°' },
    ]),
    joined([{ name: 'merged', text: 'a\n<<<<<<< ours\nb\n||||||| base\nc\n=======\nd\n>>>>>>> theirs\ne\n' }]),
  ],
  mutate: (text, random, others) => mutatedParts(text, random, others),
  run(text) {
    for (const part of partsOf(text)) readPart(part);
  },
};

function readPart({ name, text }: Part): void {
  switch (name) {
    case 'plan.csv':
      withFile(text, (file) => {
        stopped(() => {
          const { demand } = lengthsAsked(file, 'plan.csv', {});
          const pieces = demand.request.pieces.reduce((sum, { quantity }) => sum + quantity, 0);
          for (const { length, quantity } of demand.request.pieces)
            holds(
              'a piece is a whole number of ticks',
              Number.isSafeInteger(length) && Number.isSafeInteger(quantity) && length > 0,
              () => `${quantity} of ${length}`,
            );
          if (pieces < 300) verifiedPlan(demand.request, firstFit);
        });
      });
      break;
    case 'baseline.json':
      withFile(text, (file) => stopped(() => void readBaseline(file, '/')));
      break;
    case 'report.json':
      reported(text);
      break;
    case 'lengths':
      for (const line of text.split('\n')) {
        const read = readLength(line);
        if (read.kind === 'read')
          holds(
            'a length is a whole number of ticks',
            Number.isSafeInteger(read.length) && read.length > 0,
            () => `${line}: ${read.length}`,
          );
        for (const measure of [undefined, 'inches', 'feet', 'millimetres', 'centimetres', 'metres'] as const)
          for (const decimalComma of [true, false]) {
            const cell = readCell({ text: line }, { measure, decimalComma });
            if ('length' in cell)
              holds(
                'a measured length is a whole number of ticks',
                Number.isSafeInteger(cell.length),
                () => `${line}: ${cell.length}`,
              );
            const angle = readAngle({ text: line }, { measure, decimalComma });
            if ('degrees' in angle) holds('a measured angle is a number', Number.isFinite(angle.degrees), () => line);
          }
      }
      break;
    case 'merged':
      merged(text);
      break;
    default:
      break;
  }
  const bytes = new TextEncoder().encode(text);
  const decoded = decode(bytes);
  if (!text.includes('\0') && !/^\ufeff/.test(text))
    holds('what was written as UTF-8 is read', decoded.kind === 'text' && decoded.text === text.toWellFormed(), () =>
      JSON.stringify(decoded),
    );
}

function reported(text: string): void {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return;
  }
  try {
    verifyReport(json);
  } catch (error) {
    if (!(error instanceof NotAReport)) throw error;
    holds('a report that is none says why', error.message !== '', () => text);
  }
}

/** The recogniser against one that goes line by line and does nothing at once. */
function merged(text: string): void {
  const found = conflictsIn(text);
  const plain = conflictsPlainly(text);
  holds(
    'conflicts are found as line by line',
    JSON.stringify(found) === JSON.stringify(plain),
    () => `${JSON.stringify(text)}\n${JSON.stringify(found)}\n${JSON.stringify(plain)}`,
  );
  holds('where there are conflicts there may be some', found.length === 0 || mayConflict(text), () => text);
  let at = 0;
  for (const { start, end, ours, theirs } of found) {
    const places = [at, start, ...ours, ...theirs, end, text.length];
    holds(
      'conflicts stand one after another',
      places.every((place, i) => i === 0 || place >= (places[i - 1] as number)),
      () => JSON.stringify(found),
    );
    at = end;
  }
}

function stopped(work: () => void): void {
  try {
    work();
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    holds('whoever is stopped is told why', error.message !== '', () => String(error));
  }
}

function withFile(text: string, use: (file: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), 'storypole-fuzz-'));
  try {
    const file = join(folder, 'input');
    writeFileSync(file, text);
    use(file);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
