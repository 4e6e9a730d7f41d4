/** What is not held, or held by something that is not fully described. */
import { addedFix } from '../../model/edits.ts';
import { type Comparison, type Finding, finding } from '../../model/finding.ts';
import type { FittingLayout, PanelLayout, ShelfLayout } from '../../model/layout.ts';
import { memo } from '../../model/memo.ts';
import { showLength } from '../../model/show.ts';
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { rolesFor } from '../carried-fixes.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { about, both, capital, either, fittingsOf, nameOf, verb } from '../say.ts';
import { readScrew } from '../structure/screw.ts';
import { endOf } from './ends.ts';
import { sides } from './fixing.ts';
import { counted, scheduleOf, speaks, statesHardware } from './looked.ts';
import { hardwareWithoutRole, partNotCarried, pinWithoutPanel, screwSizeUnread, towerNotTied } from './rules.ts';

/** Lower panels than this hold a low shelf up and do not tip far. */
const tall = inches(27);

export function checkHeld(input: CheckInput): Finding[] {
  const { of } = scheduleOf(input);
  const stated = statesHardware(input);
  const found: Finding[] = [];
  const untied = new Map<object, PanelLayout[]>();
  for (const fitting of fittingsOf(input.layout)) {
    if (fitting.kind === 'panel') {
      if (!isTied(fitting, stated, input)) memo(untied, fitting.place.statement, () => []).push(fitting);
    } else if (fitting.kind !== 'drawers') {
      const own = (of.get(fitting.path) ?? []).filter(({ role }) => role !== 'cover');
      const comparison = counted(`pieces that hold ${nameOf(fitting)}`, own.length, 'at least', 1);
      if (!stated) lacks(input, partNotCarried, fitting, `what carries ${nameOf(fitting)}`);
      else if (!looked(input, partNotCarried, fitting, comparison, own.length > 0) && speaks(fitting))
        found.push({ ...uncarried(fitting), comparison });
    }
  }
  return [...found, ...[...untied.values()].flatMap((panels) => notTied(panels, input))];
}

function uncarried(fitting: FittingLayout): Finding {
  const named = fitting.kind === 'drawers' ? [] : fitting.carried.map(({ name }) => name);
  return about(
    partNotCarried,
    fitting,
    fitting.place,
    named.length === 0
      ? `Nothing says what carries ${nameOf(fitting)}.`
      : `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} carried by ${both(named.map((name) => `"${name}"`))}, and ${named.length > 1 ? 'none of them' : 'that'} holds no ${fitting.kind} where this one stands.`,
    {
      advice: `Name hardware that holds it: "carried by" and the name of a ${either(rolesFor(fitting.place.statement))}.`,
    },
  );
}

/** Also true where it is low, or where nothing says what carries anything. */
function isTied(panel: PanelLayout, stated: boolean, input: CheckInput): boolean {
  if (heightOf(panel) < tall) return true;
  if (!stated) {
    lacks(input, towerNotTied, panel, `what ties ${nameOf(panel)} to the wall`);
    return true;
  }
  const comparison = tiesOf(panel, input);
  return looked(
    input,
    towerNotTied,
    panel,
    comparison,
    'count' in comparison.measured && comparison.measured.count > 0,
  );
}

function heightOf({ box }: PanelLayout): Ticks {
  return subtract(box.z[1], box.z[0]);
}

function tiesOf(panel: PanelLayout, input: CheckInput): Comparison {
  const own = scheduleOf(input).of.get(panel.path) ?? [];
  return counted(`ties of ${nameOf(panel)}`, own.filter(({ role }) => role === 'tie').length, 'at least', 1);
}

/** Panels of one statement, told together. */
function notTied(panels: readonly PanelLayout[], input: CheckInput): Finding[] {
  const [first] = panels;
  if (!first) return [];
  const height = showLength(heightOf(first), input.show);
  const names = both(panels.map(({ path }) => `"${path}"`));
  return [
    about(
      towerNotTied,
      first,
      first.place,
      panels.length === 1
        ? `Panel ${names} is ${height} high, and nothing ties it to the wall.`
        : `Panels ${names} are ${height} high, and nothing ties them to the wall.`,
      {
        advice:
          'Name hardware that is a tie among what carries the panels: top, middle and bottom, on both sides of a tower.',
        comparison: tiesOf(first, input),
        // Agreed to for both sides at once.
        about: panels.length === 1 ? first.path : first.path.replace(/\.(left|right)$/, ''),
      },
    ),
  ];
}

export function checkHardware(input: CheckInput): Finding[] {
  const found: Finding[] = [];
  const seen = new Set<object>();
  for (const { fitting, hardware } of scheduleOf(input).roleless) {
    if (seen.has(hardware.place.statement)) continue;
    seen.add(hardware.place.statement);
    lacks(input, hardwareWithoutRole, fitting, `what "${hardware.name}" does`);
    found.push(
      finding(
        hardwareWithoutRole,
        hardware.place,
        `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} carried by "${hardware.name}", which does not say what it does.`,
        {
          advice: `Write what it is: ${either(rolesFor(fitting.place.statement).map((role) => `\`is ${role}\``))}.`,
          about: hardware.name,
          causes: { parameters: [], survey: false },
          fixes: rolesFor(fitting.place.statement).flatMap((role) =>
            addedFix(hardware.place.statement, `is ${role}`, { byHand: true }),
          ),
        },
      ),
    );
  }
  for (const { hardware } of scheduleOf(input).all) {
    for (const { size, place } of hardware.screws) {
      if (seen.has(place.statement)) continue;
      seen.add(place.statement);
      const screw = readScrew(size);
      if (screw.kind === 'screw') continue;
      lacks(input, screwSizeUnread, { path: hardware.name, place }, `a size of "${size}" that can be read`);
      found.push(
        finding(
          screwSizeUnread,
          place,
          `The size "${size}" of the screws of "${hardware.name}" cannot be read: ${screw.why}.`,
          {
            advice:
              'Write the size as it stands on the package; until then nothing is computed of what the screws hold.',
            about: hardware.name,
            causes: { parameters: [], survey: false },
          },
        ),
      );
    }
  }
  return found;
}

/** Pins need a panel at both ends. */
export function checkPins(input: CheckInput): Finding[] {
  const { of } = scheduleOf(input);
  const shelves = fittingsOf(input.layout).filter((f): f is ShelfLayout => f.kind === 'shelf');
  return shelves.flatMap((shelf) => {
    if (!of.get(shelf.path)?.some(({ role }) => role === 'pin')) return [];
    const open = sides.filter((side) => endOf(shelf, side, input.layout) !== 'panel');
    const comparison = counted(`ends of ${nameOf(shelf)} that meet a panel`, 2 - open.length, 'equal to', 2);
    if (looked(input, pinWithoutPanel, shelf, comparison, open.length === 0) || !speaks(shelf)) return [];
    return [
      about(
        pinWithoutPanel,
        shelf,
        shelf.place,
        `${capital(nameOf(shelf))} lies on pins, and no panel stands at its ${open.join(' and its ')} end.`,
        {
          advice: 'Carry it by supports, or set a panel there.',
          related: shelf.carried
            .filter(({ role }) => role === 'pin')
            .map(({ name, place }) => ({ place, message: `"${name}" is described here.` })),
          comparison,
        },
      ),
    ];
  });
}
