/**
 * Plans as they are written in a report (`storypole plan --format json`), read and checked by this room alone: it
 * knows the shape of the JSON and the verifier, and nothing of the planner or of what wrote it.
 */
import type { Ticks } from '../model/ticks.ts';
import { flawsOf } from './request.ts';
import type {
  Certificate,
  CertifiedBound,
  MatchedSet,
  MaterialTotals,
  Measure,
  OffcutWorth,
  Pattern,
  Piece,
  Plan,
  PlanBound,
  PlanRequest,
  Spare,
  StockLength,
  Uncut,
} from './types.ts';
import { type Violation, verify } from './verify.ts';

export interface VerifiedProject {
  readonly title: string;
  readonly root: string;
  /** Undefined where the report says that nothing was planned. */
  readonly plan: Plan | undefined;
  readonly request: PlanRequest;
  /** Empty where the plan holds. */
  readonly violations: readonly Violation[];
}

/** What the report lacks or has of another kind than a report has: `projects[0].patterns[2].times is not a number`. */
export class NotAReport extends Error {}

/** Throws NotAReport where it cannot be read as a report of plans. */
export function verifyReport(report: unknown): VerifiedProject[] {
  const top = at(report, 'the report');
  if (top.text('command') !== 'plan') throw new NotAReport('it is not what storypole plan --format json writes');
  if (top.number('version') !== 1) throw new NotAReport(`version ${top.number('version')} of reports is not known`);
  return top.list('projects').map((project) => {
    const request = requestOf(project);
    const plan = project.value.planned === true ? planOf(project) : undefined;
    const flaws = flawsOf(request);
    if (flaws.length > 0) throw new NotAReport(`${project.where}: ${flaws[0]}`);
    return {
      title: project.text('title'),
      root: project.text('root'),
      plan,
      request,
      violations: plan ? [...verify(request, plan), ...misjudged(project, request, plan)] : [],
    };
  });
}

/** Whether the report says rightly which plans keep to the limits. */
function misjudged(project: Reader, { limits }: PlanRequest, plan: Plan): Violation[] {
  const { patterns = Infinity, stopSettings = Infinity } = limits ?? {};
  return project.list('totals').flatMap((total, index): Violation[] => {
    const { material, ...found } = plan.totals[index] as MaterialTotals;
    const within = found.patternCount <= patterns && found.stopSettings <= stopSettings;
    if (total.flag('withinLimits') === within) return [];
    return [
      {
        rule: 'totals',
        where: `material ${material}`,
        message: `the plan ${within ? 'keeps' : 'does not keep'} to the limits`,
      },
    ];
  });
}

function requestOf(project: Reader): PlanRequest {
  const saw = project.object('saw');
  // Reports from before there were spares have none.
  const spares = project.value.spares === undefined ? [] : project.list('spares').map(spareOf);
  const limits = project.object('limits');
  const limit = (field: string) => (limits.value[field] === null ? undefined : limits.number(field));
  return {
    pieces: project.list('pieces').map(
      (piece): Piece => ({
        id: piece.text('id'),
        material: piece.text('material'),
        length: piece.length('length'),
        quantity: piece.number('quantity'),
      }),
    ),
    stock: project.list('stock').map((board): StockLength => {
      const price = board.value.price === null ? undefined : board.object('price').number('hundredths');
      const count = board.value.count === null ? undefined : board.number('count');
      return {
        id: board.text('id'),
        material: board.text('material'),
        length: board.length('length'),
        offcut: board.flag('offcut'),
        ...(price !== undefined && { price }),
        ...(count !== undefined && { count }),
      };
    }),
    sets: optionalList(project, 'sets').map(
      (set): MatchedSet => ({
        id: set.text('id'),
        runs: set.list('runs').map((run) => ({ piece: run.text('piece'), quantity: run.number('quantity') })),
        quantity: set.number('quantity'),
      }),
    ),
    worth: optionalList(project, 'worth').map(
      (worth): OffcutWorth => ({
        material: worth.text('material'),
        price: worth.object('price').number('hundredths'),
        per: worth.length('per'),
      }),
    ),
    ...(spares.length > 0 && { spares }),
    saw: {
      ...(saw.value.step !== undefined && saw.value.step !== null && { step: saw.length('step') }),
      kerf: saw.length('kerf'),
      trim: saw.length('trim'),
      keepOffcutsFrom: saw.length('keepOffcutsFrom'),
    },
    limits: { patterns: limit('patterns'), stopSettings: limit('stopSettings') },
  };
}

/** A report written before there were such things says nothing of them. */
function optionalList(project: Reader, field: string): Reader[] {
  return project.value[field] === undefined ? [] : project.list(field);
}

function spareOf(spare: Reader): Spare {
  return {
    id: spare.text('id'),
    material: spare.text('material'),
    least: spare.length('least'),
    most: spare.length('most'),
    quantity: spare.number('wanted'),
  };
}

function planOf(project: Reader): Plan {
  return {
    version: 1,
    patterns: project.list('patterns').map(
      (pattern): Pattern => ({
        stock: pattern.text('stock'),
        material: pattern.text('material'),
        times: pattern.number('times'),
        cuts: pattern.list('cuts').map((cut) => ({
          piece: cut.text('piece'),
          length: cut.length('length'),
          quantity: cut.number('quantity'),
          ...((cut.value.set ?? null) !== null && { set: cut.text('set') }),
        })),
        ...sparesIn(pattern),
        used: pattern.length('used'),
        kerfLoss: pattern.length('kerfLoss'),
        offcut: pattern.length('offcut'),
        keep: pattern.flag('keep'),
      }),
    ),
    uncut: project.list('uncut').map(
      (uncut): Uncut => ({
        piece: uncut.text('piece'),
        material: uncut.text('material'),
        length: uncut.length('length'),
        quantity: uncut.number('quantity'),
        reason: uncut.text('reason') as Uncut['reason'],
      }),
    ),
    totals: project.list('totals').map(totalsOf),
  };
}

function sparesIn(pattern: Reader): Pick<Pattern, 'spares'> {
  const spares = pattern.value.spares === undefined ? [] : pattern.list('spares');
  if (spares.length === 0) return {};
  return {
    spares: spares.map((cut) => ({
      piece: cut.text('spare'),
      length: cut.length('length'),
      quantity: cut.number('quantity'),
    })),
  };
}

function totalsOf(total: Reader): MaterialTotals {
  const money = (field: string): number | undefined =>
    (total.value[field] ?? null) === null ? undefined : total.object(field).number('hundredths');
  const [price, keptValue, takenValue] = [money('price'), money('keptValue'), money('takenValue')];
  const before = total.value.before === null ? undefined : total.object('before');
  return {
    material: total.text('material'),
    boards: total.list('boards').map((board) => ({
      stock: board.text('stock'),
      length: board.length('length'),
      count: board.number('count'),
    })),
    boardCount: total.number('boardCount'),
    pieceCount: total.number('pieceCount'),
    ...(total.value.spareCount !== undefined &&
      total.value.spareCount !== 0 && { spareCount: total.number('spareCount') }),
    patternCount: total.number('patternCount'),
    stopSettings: total.number('stopSettings'),
    ...(before && {
      before: { patternCount: before.number('patternCount'), stopSettings: before.number('stopSettings') },
    }),
    ...(price !== undefined && { price }),
    ...(keptValue !== undefined && { keptValue }),
    ...(takenValue !== undefined && { takenValue }),
    boughtLength: total.length('boughtLength'),
    stockLength: total.length('stockLength'),
    usedLength: total.length('usedLength'),
    trimLoss: total.length('trimLoss'),
    kerfLoss: total.length('kerfLoss'),
    keptCount: total.number('keptCount'),
    keptLength: total.length('keptLength'),
    waste: total.length('waste'),
    bound: boundOf(total.object('bound')),
  };
}

function boundOf(bound: Reader): PlanBound {
  const measure = bound.text('measure') as Measure;
  const figures = { measure, ...figuresOf(bound, measure) };
  switch (bound.text('proof')) {
    case 'length':
      return { ...figures, proof: 'length' };
    case 'dual':
      return { ...figures, proof: 'dual', certificate: certificateOf(bound.object('certificate')) };
    case 'search': {
      const certified = bound.object('certified');
      const certificate = certified.value.certificate === null ? undefined : certified.object('certificate');
      return {
        ...figures,
        proof: 'search',
        certified: {
          ...figuresOf(certified, measure),
          ...(certificate && { certificate: certificateOf(certificate) }),
        },
      };
    }
    default:
      throw new NotAReport(`${bound.where}.proof is none that is known`);
  }
}

function figuresOf(of: Reader, measure: Measure): Pick<CertifiedBound, 'cost' | 'boards'> {
  return {
    cost: measure === 'price' ? of.object('price').number('hundredths') : of.length('length'),
    boards: of.number('boards'),
  };
}

function certificateOf(certificate: Reader): Certificate {
  return {
    grid: certificate.number('grid'),
    ...((certificate.value.worth ?? null) !== null && { worth: certificate.number('worth') }),
    weights: certificate.list('weights').map((weight) => [weight.length('length'), weight.number('weight')] as const),
  };
}

/** Reads fields of one object of the report, and says where one is not what it has to be. */
interface Reader {
  readonly where: string;
  readonly value: Readonly<Record<string, unknown>>;
  readonly text: (field: string) => string;
  readonly number: (field: string) => number;
  readonly flag: (field: string) => boolean;
  /** A length is written with its ticks. */
  readonly length: (field: string) => Ticks;
  readonly object: (field: string) => Reader;
  readonly list: (field: string) => Reader[];
}

function at(value: unknown, where: string): Reader {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new NotAReport(`${where} is no object`);
  const fields = value as Readonly<Record<string, unknown>>;
  const typed = <T>(field: string, is: (value: unknown) => value is T, what: string): T => {
    const found = fields[field];
    if (is(found)) return found;
    throw new NotAReport(`${where}.${field} is ${found === undefined ? 'missing' : `no ${what}`}`);
  };
  const number = (field: string): number => typed(field, (v): v is number => typeof v === 'number', 'number');
  return {
    where,
    value: fields,
    text: (field) => typed(field, (v): v is string => typeof v === 'string', 'text'),
    number,
    flag: (field) => typed(field, (v): v is boolean => typeof v === 'boolean', 'yes or no'),
    length: (field) => at(fields[field], `${where}.${field}`).number('ticks') as Ticks,
    object: (field) => at(fields[field], `${where}.${field}`),
    list: (field) =>
      typed(field, (v): v is unknown[] => Array.isArray(v), 'list').map((item, i) =>
        at(item, `${where}.${field}[${i}]`),
      ),
  };
}
