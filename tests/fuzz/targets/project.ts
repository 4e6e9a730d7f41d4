/** Resolver, checks, editor features and sheets on damaged projects: whatever is written, there is an answer. */
import { spanOf } from '../../../grammar/tree.ts';
import { lensesOf } from '../../../server/language/code-lens.ts';
import { sourceOf } from '../../../server/language/diagnostics.ts';
import { hintsIn } from '../../../server/language/inlay-hints.ts';
import { linksOf } from '../../../server/language/links.ts';
import type { Finding } from '../../../server/model/finding.ts';
import type { Layout } from '../../../server/model/layout.ts';
import { cutListText } from '../../../server/sheets/cut-list.ts';
import { drawableOf, drawingsOf } from '../../../server/sheets/drawing/drawings.ts';
import { exceptionsOf } from '../../../server/sheets/exceptions.ts';
import { finalChecks, markOutOf, orderOfWork } from '../../../server/sheets/mark-out.ts';
import { takeoffOf } from '../../../server/sheets/takeoff.ts';
import { filesOf, partsOf } from '../case.ts';
import { randomOf } from '../hash.ts';
import { mutatedParts } from '../mutate.ts';
import { diskOf, findingsOf, loadedFrom, pathIn } from '../projects.ts';
import { smallProjects } from '../seeds.ts';
import { holds, type Target } from '../target.ts';
import { askAt, lookThrough } from './asking.ts';

export const project: Target = {
  name: 'project',
  seeds: smallProjects,
  mutate: mutatedParts,
  run(text) {
    const files = new Map([...filesOf(partsOf(text))].map(([name, own]) => [pathIn(name), own]));
    const random = randomOf(text);
    for (const loaded of loadedFrom(diskOf(files)).projects) {
      for (const finding of findingsOf(loaded)) checkFinding(finding);
      const { project: own } = loaded;
      const units = [...own.units()];
      for (const { resolved, count } of units) {
        holds('a count is a count', Number.isSafeInteger(count) && count >= 0, () => `${count}`);
        if (resolved) checkLayout(resolved.layout);
      }
      for (const template of own.names.all('template'))
        for (const { resolved } of own.samplesOf(template.statement)) checkLayout(resolved.layout);
      lookThrough(loaded);
      cutListText(units, own.settings);
      takeoffOf(units);
      exceptionsOf(own);
      for (const unit of units.slice(0, 3)) {
        const drawable = drawableOf(own, unit, random.pick(['inches', 'feet', 'millimetres'] as const));
        if (!drawable) continue;
        drawingsOf(drawable);
        markOutOf(drawable.layout, drawable.fixings);
        orderOfWork(drawable.layout, drawable.fixings);
        finalChecks(drawable.layout);
      }
      for (const [path, source] of own.sources) {
        const snapshot = { project: own, source, path };
        linksOf(snapshot);
        for (const hint of hintsIn(
          snapshot,
          { start: 0, end: source.length },
          new Set(['width', 'height', 'cut', 'value', 'default']),
        ))
          hint.why();
        for (const lens of lensesOf(snapshot, new Set(['uses', 'boards', 'savings', 'stock']), () => undefined))
          lens.say();
        for (let n = 0; n < 3; n++) askAt(snapshot, random.int(source.length + 1), random);
      }
    }
  },
};

function checkFinding({ rule, place, related, fixes, message, comparison }: Finding): void {
  const places = [place, ...related.map((r) => r.place), ...fixes.flatMap(({ edits }) => edits.map((e) => e.place))];
  for (const own of places) {
    const { start, end } = spanOf(own);
    const { length } = sourceOf(own);
    holds(
      `the places of ${rule.id} lie in their file`,
      0 <= start && start <= end && end <= length,
      () => `${start}-${end} of ${length}`,
    );
  }
  holds(
    `${rule.id} is told in words`,
    message.trim() !== '' && !/undefined|NaN|\[object|null/.test(message.replace(/".*?"/gs, '')),
    () => message,
  );
  for (const side of [comparison?.measured, comparison?.limit])
    if (side)
      holds(
        `${rule.id} compares numbers`,
        Object.values(side).every((v) => typeof v !== 'number' || Number.isFinite(v)),
        () => JSON.stringify(comparison),
      );
}

/** Lengths are whole ticks, everything else a number. */
function checkLayout(layout: Layout): void {
  const whole = (what: string, ...lengths: (number | undefined)[]): void => {
    for (const length of lengths)
      holds(
        `${what} is a whole number of ticks`,
        length === undefined || Number.isSafeInteger(length),
        () => `${length}`,
      );
  };
  for (const { length, nominal, height, studs, inset, left, readings } of layout.walls) {
    whole(
      'what a wall says',
      length,
      nominal,
      height,
      ...studs,
      inset.left,
      inset.right,
      ...left.flatMap(({ from, width }) => [from, width]),
      ...readings.flatMap(({ at, length: own }) => [at, own]),
    );
  }
  for (const { from, width, height } of layout.openings) whole('what an opening says', from, width, height);
  for (const { from, width, fittings } of layout.zones) {
    whole('what a zone says', from.value, from.least, from.most, width.value, width.least, width.most);
    for (const { at, box } of fittings)
      whole('what a fitting says', at.value, at.least, at.most, ...box.x, ...box.y, ...box.z);
  }
  for (const { length, depth, thickness, at, steps } of layout.parts) {
    whole('what a part says', length, depth, thickness, at, ...steps.map(({ amount }) => amount));
    const sum = steps.reduce((total, { amount }) => total + amount, 0);
    holds(
      'the steps of a part come to its length',
      sum === length,
      () => `${sum}, not ${length}: ${JSON.stringify(steps.map(({ kind, amount }) => [kind, amount]))}`,
    );
  }
  for (const { height, from, length, mark } of layout.lines) whole('what a line says', height, from, length, mark);
  for (const { from, along } of layout.plan)
    holds('the plan has numbers', [...from, ...along].every(Number.isFinite), () => JSON.stringify([from, along]));
}
