/** Small closets with hardware, their schedules, and what the checks of fixings say of them. */
import type { Lacked, Looked } from '../../../server/checks/check.ts';
import { fixingChecks } from '../../../server/checks/fixings/check.ts';
import type { Fixing } from '../../../server/checks/fixings/fixing.ts';
import { type Fixings, fixingsOf } from '../../../server/checks/fixings/schedule.ts';
import type { Finding } from '../../../server/model/finding.ts';
import type { Layout } from '../../../server/model/layout.ts';
import type { Unit } from '../../../server/model/project.ts';
import { showInches } from '../../../server/model/show.ts';
import { inch, projectOf } from '../../model/support.ts';

export const hardware = {
  rear: 'hardware rear { is support; spacing at most 24in; anchor plug; screws "#8 x 1-1/2 in" count 2; screws "#4 x 3/4 in" into part }',
  angle:
    'hardware angle { is bracket; reach 12in; leg 9in; inset 6in; least 2; anchor plug; screws "#8 x 3 in" count 2 }',
  hook: 'hardware hook { is hook; set-back 3in; screws "#8 x 1 in" into part }',
  cup: 'hardware cup { is cup; anchor plug; screws "#8 x 1-1/2 in" count 2 }',
  tie: 'hardware strap { is tie; at top middle bottom; inset 4in; anchor plug; screws "#8 x 1-1/2 in"; screws "#8 x 3/4 in" count 2 into part }',
  clip: 'hardware clip { is tie; screws "#8 x 1/2 in" count 2 into part }',
  pin: 'hardware peg { is pin; least 4; inset 2in }',
  cover: 'hardware cap { is cover }',
  plug: 'hardware plug { is anchor; rated 50 lb }',
} as const;

const allHardware = Object.values(hardware).join('\n');

/** A unit `u` on a back wall of this length; `more` replaces hardware of the same name. */
export function unitOf(
  inside: string,
  {
    length = '48in',
    studs = 'studs every 16in from 14-1/2in',
    sides = '',
    hardware: own = allHardware,
    unit = 'unit u t',
  }: { length?: string; studs?: string; sides?: string; hardware?: string; unit?: string } = {},
): Unit {
  const project = projectOf(`${own}
template t {
  board white-12
  pole chrome
  wall back { length ${length}; height 96in; ${studs} }
  ${sides}
  ${inside}
}
${unit}
`);
  const found = [...project.units()].find(({ name }) => name === 'u');
  if (!found) throw new Error('there is no unit');
  return found;
}

export function layoutOf(unit: Unit): Layout {
  if (!unit.resolved) throw new Error('the unit cannot be worked out');
  return unit.resolved.layout;
}

export function schedule(unit: Unit): Fixings {
  return fixingsOf(layoutOf(unit));
}

/** `rear back 2in stud 14-1/2in`, a line for each fixing of a part. */
export function lines(unit: Unit, part: string): string[] {
  return (schedule(unit).of.get(part) ?? []).map(line);
}

function line({ hardware: { name }, wall, at, hold }: Fixing): string {
  const meets = hold.kind === 'stud' ? ` ${inch(hold.stud)}` : hold.kind === 'anchor' ? ` ${hold.anchor?.name}` : '';
  return `${name} ${wall} ${inch(at)} ${hold.kind}${meets}`;
}

export interface Checked {
  readonly findings: readonly Finding[];
  readonly looked: readonly Looked[];
  readonly lacked: readonly Lacked[];
}

export function checked(unit: Unit): Checked {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  const input = {
    layout: layoutOf(unit),
    policy: unit.policy,
    show: showInches,
    record: { looked: (made: Looked) => looked.push(made), lacks: (missed: Lacked) => lacked.push(missed) },
  };
  return { findings: fixingChecks.flatMap((check) => check.run(input)), looked, lacked };
}

export function ids({ findings }: Checked): string[] {
  return findings.map(({ rule }) => rule.id);
}

export function only(made: Checked, id: string): Finding {
  const [first, ...rest] = made.findings.filter(({ rule }) => rule.id === id);
  if (!first || rest.length > 0) throw new Error(`one ${id} was expected, found: ${ids(made).join(', ')}`);
  return first;
}
