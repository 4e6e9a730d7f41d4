/** `storypole lenses`: what an editor shows above templates and units. */
import { advisedPlan } from '../checks/analysis.ts';
import { bestPlan } from '../cutting/advice.ts';
import { optimal } from '../cutting/optimal.ts';
import { type LensKind, lensesOf, type PlanFigures } from '../language/code-lens.ts';
import type { Project } from '../model/project.ts';
import type { Answer } from './answer.ts';
import { spotIn, stretchOf } from './at-place.ts';
import { at } from './finding-text.ts';
import { documentOf, rangeJson } from './json.ts';
import { spot } from './located.ts';
import { type Common, sessionFor } from './session.ts';
import { printable } from './words.ts';

export interface LensesOptions extends Common {
  readonly kind?: LensKind;
}

const all: ReadonlySet<LensKind> = new Set<LensKind>(['uses', 'boards', 'savings', 'stock']);

/** In the order of the text. The plan is the one that `storypole plan` makes, and made where a lens asks for it. */
export function lenses(written: string, options: LensesOptions): Answer {
  const session = sessionFor(options);
  const { snapshot, range } = stretchOf(written, session.current);
  snapshot.project.refreshNow();
  const kinds = options.kind === undefined ? all : new Set([options.kind]);
  const found = lensesOf(snapshot, kinds, figuresOnce(), range).map((lens) => ({
    kind: lens.kind,
    spot: spotIn(snapshot.source, lens),
    ...lens.say(),
  }));
  const remark =
    found.length === 0
      ? `There is nothing ${options.kind === undefined ? '' : `of the kind "${options.kind}" `}to show above the lines of ${written}.`
      : undefined;
  if (options.format === 'json') {
    const listed = found.map(({ kind, title, places, spot: own }) => ({
      kind,
      title,
      range: rangeJson(own, session.pathOf),
      places: places.map((place) => rangeJson(spot(place), session.pathOf)),
    }));
    return { status: 0, result: documentOf('lenses', { lenses: listed }), remark };
  }
  const lines = found.map(({ title, spot: own }) => {
    const name = own.source.text.slice(own.start, own.end);
    return `${session.paint('bold', at(own, session))} ${printable(name)}: ${printable(title)}\n`;
  });
  return { status: 0, result: lines, remark };
}

function figuresOnce(): (project: Project) => PlanFigures | undefined {
  const made = new Map<Project, PlanFigures | undefined>();
  return (project) => {
    if (!made.has(project)) {
      const { advice, plan: filled, findings } = advisedPlan(project, optimal);
      // What is only cut from what is left over has no share in what boards cost.
      const plan = advice ? bestPlan(advice.materials) : filled;
      made.set(
        project,
        plan && { totals: new Map(plan.totals.map((t) => [t.material, t])), isCurrent: true, findings },
      );
    }
    return made.get(project);
  };
}
