/**
 * Statements about lengths as a linear programme: what holds together, between what each length is, and by how much a
 * statement would have to give way. No code of the solver of dimension chains.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10, 2018; https://highs.dev), as the
 * package `highs`; and YALPS (I. Manske, MIT), another simplex, as the package `yalps`.
 */
import highsModule, { type Highs, type Model } from 'highs';
import { expect } from 'vitest';
import { type Constraint, solve } from 'yalps';

// The package's types describe its CommonJS form; imported, the default is the loader itself.
export const loadSolver = highsModule as unknown as typeof highsModule.default;

/** least <= the sum of the terms <= most, and who says so. A side left out is free. */
export interface Row {
  readonly says: string;
  readonly terms: readonly (readonly [name: string, times: number])[];
  readonly least?: number | undefined;
  readonly most?: number | undefined;
}

export function row(says: string, terms: Row['terms'], least: number | undefined, most: number | undefined): Row {
  return { says, terms, least, most };
}

/** `to - from`. */
export function apart(from: string, to: string): Row['terms'] {
  return [
    [to, 1],
    [from, -1],
  ];
}

export class Linear {
  private readonly highs: Highs;

  constructor(highs: Highs) {
    this.highs = highs;
  }

  holds(rows: readonly Row[]): boolean {
    return this.with(
      rows,
      () => 0,
      (model) => this.run(model) !== undefined,
    );
  }

  /** Least and greatest of a sum of terms; undefined where nothing limits it. The rows hold together. */
  range(rows: readonly Row[], terms: Row['terms']): { least: number | undefined; most: number | undefined } {
    return this.with(
      rows,
      () => 0,
      (model, indexOf) => {
        const end = (sense: 'minimize' | 'maximize'): number | undefined => {
          for (const [name, times] of terms) model.changeColCost(indexOf(name), times);
          model.changeObjectiveSense(this.highs.constants.objectiveSense[sense]);
          model.clearSolver();
          model.run();
          const status = model.getModelStatus();
          if (status === this.highs.constants.modelStatus.unbounded) return undefined;
          expect(status).toBe(this.highs.constants.modelStatus.optimal);
          return rounded(model.getObjectiveValue());
        };
        return { least: end('minimize'), most: end('maximize') };
      },
    );
  }

  /** The greatest of a sum of terms, whole or not. The rows hold together, and limit it. */
  greatest(rows: readonly Row[], terms: Row['terms']): number {
    return this.with(
      rows,
      () => 0,
      (model, indexOf) => {
        for (const [name, times] of terms) model.changeColCost(indexOf(name), times);
        model.changeObjectiveSense(this.highs.constants.objectiveSense.maximize);
        const found = this.run(model);
        if (found === undefined) throw new Error('the rows do not hold together');
        return found;
      },
    );
  }

  /**
   * By how much those rows that `gives` names must give way, all by the same amount, so that everything holds;
   * less than nothing where they could be tighter still. Undefined where giving way helps nothing.
   */
  leastRelief(rows: readonly Row[], gives: (row: Row) => boolean): number | undefined {
    return this.with(
      rows,
      (one) => (gives(one) ? 1 : 0),
      (model, indexOf) => {
        const relief = indexOf('relief');
        model.changeColBounds(relief, -1e6, this.highs.infinity);
        model.changeColCost(relief, 1);
        return this.run(model);
      },
    );
  }

  private run(model: Model): number | undefined {
    model.run();
    const status = model.getModelStatus();
    const { optimal, infeasible } = this.highs.constants.modelStatus;
    expect([optimal, infeasible]).toContain(status);
    return status === optimal ? model.getObjectiveValue() : undefined;
  }

  private with<T>(
    rows: readonly Row[],
    giving: (row: Row) => number,
    work: (model: Model, indexOf: (name: string) => number) => T,
  ): T {
    const { infinity } = this.highs;
    const model = this.highs.createModel();
    try {
      model.options.set({ output_flag: false, presolve: 'off' });
      const names = ['start', 'relief', ...new Set(rows.flatMap(({ terms }) => terms.map(([name]) => name)))];
      const index = new Map([...new Set(names)].map((name, i) => [name, i]));
      for (const name of index.keys())
        model.addVar(...((name === 'start' || name === 'relief' ? [0, 0] : [-infinity, infinity]) as [number, number]));
      const indexOf = (name: string): number => index.get(name) as number;
      for (const one of rows) {
        const indices = one.terms.map(([name]) => indexOf(name));
        const values = one.terms.map(([, times]) => times);
        const gives = giving(one);
        const [more, less] = gives ? [[gives], [-gives]] : [[], []];
        const relief = gives ? [indexOf('relief')] : [];
        if (one.least !== undefined)
          model.addRow(one.least, infinity, { indices: [...indices, ...relief], values: [...values, ...more] });
        if (one.most !== undefined)
          model.addRow(-infinity, one.most, { indices: [...indices, ...relief], values: [...values, ...less] });
      }
      return work(model, indexOf);
    } finally {
      model.dispose();
    }
  }
}

/** Whether the rows hold together with no length below 0, by the other solver. */
export function holdsToo(rows: readonly Row[]): boolean {
  const constraints = new Map<string, Constraint>();
  const variables = new Map<string, Map<string, number>>();
  rows.forEach(({ terms, least, most }, i) => {
    constraints.set(`${i}`, { ...(least !== undefined && { min: least }), ...(most !== undefined && { max: most }) });
    for (const [name, times] of terms) {
      if (name === 'start') continue;
      const column = variables.get(name) ?? new Map<string, number>();
      column.set(`${i}`, (column.get(`${i}`) ?? 0) + times);
      variables.set(name, column);
    }
  });
  const { status } = solve({ direction: 'minimize', objective: 'nothing', constraints, variables });
  expect(['optimal', 'infeasible']).toContain(status);
  return status === 'optimal';
}

/** What is whole but for floating-point arithmetic. */
export function rounded(value: number): number {
  expect(Math.abs(value - Math.round(value))).toBeLessThan(1e-6);
  return Math.round(value) + 0;
}
