/** What the page is told, as plain data. */

export interface UnitEntry {
  readonly name: string;
  readonly built: string;
  readonly floor: string;
  readonly flat: string;
  readonly phase: string;
  readonly count: number;
  /** Number of its sheet; -1 where there is none. */
  readonly sheet: number;
  /** Errors were found in it. */
  readonly wrong: boolean;
}

export interface PageData {
  readonly title: string;
  /** What was ticked under another is not shown. */
  readonly revision: string;
  readonly system: 'inches' | 'millimetres';
  readonly date: string;
  readonly units: readonly UnitEntry[];
}

/** What somebody has ticked and noted of one unit. */
export interface Kept {
  readonly boxes: Readonly<Record<string, true>>;
  readonly notes: Readonly<Record<string, string>>;
}
