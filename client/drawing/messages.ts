/** What the extension and the page of the drawing say to each other. Plain data: it goes between two processes. */

export interface PartShown {
  key: string;
  layer: string;
  path: string;
  /** What it is, for everybody: `shelf shirts.high, 48in long, underside at 84in`. */
  label: string;
  facts: string[];
  steps: { amount: string; what: string }[];
  /** Numbers of the findings about it. */
  findings: number[];
}

export interface FindingShown {
  number: number;
  severity: 'error' | 'warning' | 'note';
  message: string;
}

export interface SheetShown {
  title: string;
  scale: number;
  width: number;
  height: number;
  key: { number: string; text: string }[];
  revision: number;
  /** Left out where the page has it. */
  svg?: string;
}

export interface DrawingShown {
  unit: { kind: 'unit' | 'template'; name: string; where: string; isHere: boolean };
  views: { id: string; kind: 'elevation' | 'plan' | 'section'; title: string }[];
  view?: string;
  /** The view is that of the wall of the part at the cursor. */
  follows: boolean;
  sheet?: SheetShown;
  problem?: string;
  banner?: string;
  parts: PartShown[];
  current: string[];
  findings: FindingShown[];
  slack: string[];
}

/** What a panel needs to be shown again after a reload. */
export interface Kept {
  source: string;
  line: number;
  character: number;
  before?: { kind: 'unit' | 'template'; name: string };
  view?: string;
  lastView?: string;
}

export type ToPage =
  | { kind: 'drawing'; drawing: DrawingShown; kept: Kept }
  /** There is nothing to draw, and why. */
  | { kind: 'nothing'; text: string };

export type FromPage =
  /** It has been loaded, and has nothing yet. */
  | { kind: 'ready' }
  /** The statement of a part or a finding is wanted. */
  | { kind: 'part'; key: string }
  | { kind: 'finding'; number: number }
  /** Without a view, that of the cursor. */
  | { kind: 'view'; view?: string }
  /** Room for the drawing in millimetres. */
  | { kind: 'room'; width: number; height: number }
  | { kind: 'back' | 'save' | 'print' }
  /** What is shown now, and the keys of the parts that are outlined. */
  | { kind: 'shown'; revision?: number; outlined: string[] };

/** A state that was kept is from a file of the editor's, and may be of another version: what is not as it should be is nothing. */
export function keptFrom(state: unknown): Kept | undefined {
  const { source, line, character, before, view, lastView } = (state ?? {}) as Partial<Record<keyof Kept, unknown>>;
  if (typeof source !== 'string' || !isCount(line) || !isCount(character)) return undefined;
  const { kind, name } = (before ?? {}) as Partial<Record<'kind' | 'name', unknown>>;
  return {
    source,
    line,
    character,
    ...((kind === 'unit' || kind === 'template') && typeof name === 'string' && { before: { kind, name } }),
    ...(typeof view === 'string' && { view }),
    ...(typeof lastView === 'string' && { lastView }),
  };
}

/**
 * What the page says, as far as it is what a page of ours can say: it is shown what others wrote, and nothing that comes from
 * there is taken on trust. Undefined for anything else.
 */
export function fromPage(said: unknown): FromPage | undefined {
  if (typeof said !== 'object' || said === null) return undefined;
  const { kind, key, number, view, width, height, revision, outlined } = said as Record<string, unknown>;
  switch (kind) {
    case 'ready':
    case 'back':
    case 'save':
    case 'print':
      return { kind };
    case 'part':
      return typeof key === 'string' ? { kind, key } : undefined;
    case 'finding':
      return isCount(number) ? { kind, number } : undefined;
    case 'view':
      if (view === undefined) return { kind };
      return typeof view === 'string' ? { kind, view } : undefined;
    case 'room':
      return isRoom(width) && isRoom(height) ? { kind, width, height } : undefined;
    case 'shown': {
      if (!Array.isArray(outlined) || !outlined.every((one) => typeof one === 'string')) return undefined;
      return { kind, outlined, ...(isCount(revision) && { revision }) };
    }
    default:
      return undefined;
  }
}

/** Millimetres of a panel: no screen is wider than this. */
const widest = 20_000;

function isRoom(value: unknown): value is number {
  return typeof value === 'number' && value >= 0 && value <= widest;
}

function isCount(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0;
}
