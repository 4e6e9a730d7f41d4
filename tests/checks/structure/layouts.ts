/** Shelves and rods that carry something, as plain data; inches, and the units of the trade. */
import type { CheckInput, Lacked, Looked, Recorder } from '../../../server/checks/check.ts';
import { PLF, POUND_FORCE, PSF, PSI } from '../../../server/checks/structure/units.ts';
import type { FittingLayout, RodLayout, ShelfLayout } from '../../../server/model/layout.ts';
import type { Board, Demands, Hardware, HardwareRole, Load, RodMaterial } from '../../../server/model/materials.ts';
import { inches, NONE } from '../../../server/model/ticks.ts';
import { board, input, layout, panel, place, policy, rod, shelf } from '../layouts.ts';

export function pine(given: Partial<Board> = {}): Board {
  return { ...board('pine-12', 12), stiffness: 950e3 * PSI, ...given };
}

export function area(psf: number): Load {
  return { kind: 'area', amount: psf * PSF, place: place('load') };
}

export function line(plf: number): Load {
  return { kind: 'line', amount: plf * PLF, place: place('line-load') };
}

export function force(lbf: number): Load {
  return { kind: 'point', amount: lbf * POUND_FORCE, place: place('point-load') };
}

export function loadedShelf(length: number, given: Partial<ShelfLayout> = {}): ShelfLayout {
  return { ...shelf('tower.top', 60, { x: [0, length], board: pine() }), loads: [area(40)], ...given };
}

export function tube(given: Partial<RodMaterial> = {}): RodMaterial {
  return {
    kind: 'rod',
    name: 'steel-tube',
    place: place('rod steel-tube'),
    diameter: inches(1.0625),
    tube: inches(0.049),
    ends: [],
    stiffness: 29e6 * PSI,
    shearStiffness: undefined,
    strength: undefined,
    carried: [],
    weight: undefined,
    finish: undefined,
    ...given,
  };
}

export function loadedRod(length: number, given: Partial<RodLayout> = {}): RodLayout {
  const plain = rod('tower.rod', 60, [], { x: [0, length], diameter: 1.0625 });
  return { ...plain, material: tube(), loads: [line(30)], ...given };
}

export function hardware(role: HardwareRole, given: Partial<Hardware> = {}): Hardware {
  return {
    kind: 'hardware',
    name: role,
    place: place(`hardware ${role}`),
    takes: undefined,
    why: undefined,
    role,
    spacing: undefined,
    inset: NONE,
    least: 0,
    inStud: 0,
    shift: { most: NONE, step: undefined },
    setBack: undefined,
    reach: undefined,
    leg: undefined,
    at: [],
    anchor: undefined,
    screws: [],
    pack: undefined,
    rated: undefined,
    ...given,
  };
}

/** What the fitting runs into on its right; on its left is the wall. */
export function between(fitting: FittingLayout, ...others: readonly FittingLayout[]): readonly FittingLayout[] {
  const right = fitting.box.x[1] / inches(1);
  const side = { ...panel('tower.side', right, { depth: 24 }) };
  const x = [fitting.box.x[1], (fitting.box.x[1] + inches(0.75)) as (typeof fitting.box.x)[1]] as const;
  return [fitting, { ...side, box: { ...side.box, x } }, ...others];
}

export interface Asking extends CheckInput {
  readonly looks: readonly Looked[];
  readonly gaps: readonly Lacked[];
}

export function asking(fittings: readonly FittingLayout[], demands: Partial<Demands> = {}, severities = {}): Asking {
  const looks: Looked[] = [];
  const gaps: Lacked[] = [];
  const record: Recorder = { looked: (one) => looks.push(one), lacks: (one) => gaps.push(one) };
  const plain = policy({}, severities);
  const inForce = { ...plain, demands: { ...plain.demands, ...demands } };
  return { ...input(layout(fittings), inForce), record, looks, gaps };
}

export function limit(value: number, most?: number): NonNullable<Demands['deflection']['shelf']> {
  return {
    value,
    most: most === undefined ? undefined : inches(most),
    place: place('deflection'),
    policy: 'everyday',
  };
}
