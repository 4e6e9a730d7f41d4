/** The nearest place for a light that is far enough from everything stored, along one of the two ways it can be moved. */
import type { NumberLiteral, Statement } from '../../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { Box, FixtureLayout, Layout } from '../../model/layout.ts';
import { type Show, showLength } from '../../model/show.ts';
import { add, inches, millimetres, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { roomBefore } from '../room.ts';
import { allClear, type Stored } from './nearest-storage.ts';

/** No light is moved further than this by a fix. */
const farthest = inches(48);

type Axis = 'x' | 'y' | 'z';

export function lightFixes(
  light: FixtureLayout,
  needed: Ticks,
  stored: readonly Stored[],
  layout: Layout,
  show: Show,
): Fix[] {
  const block = light.place.statement.block?.children ?? [];
  const fixes: { readonly fix: Fix; readonly by: number }[] = [];
  for (const statement of block) {
    const way = wayOf(statement, light.wall === undefined);
    const number = way && numberOf(statement);
    const written = number && writtenLength(number);
    if (!way || !number || !written) continue;
    const step = written.metric ? millimetres(10) : inches(1 / 2);
    for (let by = step; by <= farthest; by = add(by, step)) {
      const shift = [by, subtract(NONE, by)].find((s) =>
        fits(moved(light.box, way.axis, s), light, needed, stored, layout),
      );
      if (shift === undefined) continue;
      const fix = writeInstead(statement, number, ticks(written.length + way.sign * shift), show);
      if (fix) fixes.push({ fix: { ...fix, title: `${fix.title}: ${showLength(by, show)} further off` }, by });
      break;
    }
  }
  return fixes.sort((a, b) => a.by - b.by).map(({ fix }) => fix);
}

function fits(box: Box, light: FixtureLayout, needed: Ticks, stored: readonly Stored[], layout: Layout): boolean {
  if (!isInside(box, light.wall, layout)) return false;
  return allClear({ wall: light.wall, box }, needed, stored, layout);
}

function isInside({ x, y, z }: Box, wall: string | undefined, layout: Layout): boolean {
  if (wall === undefined) {
    const [width, depth] = [roomBefore('left', layout)?.depth, roomBefore('back', layout)?.depth];
    return x[0] >= 0 && y[0] >= 0 && width !== undefined && depth !== undefined && x[1] <= width && y[1] <= depth;
  }
  const own = layout.walls.find(({ name }) => name === wall);
  return own !== undefined && x[0] >= 0 && x[1] <= own.length && z[0] >= 0 && z[1] <= (own.height ?? z[1]);
}

function moved(box: Box, axis: Axis, by: Ticks): Box {
  const [from, to] = box[axis];
  return { ...box, [axis]: [add(from, by), add(to, by)] };
}

/** `from back 12in` moves it on the ceiling; `from left 60in` and `height 80in` on a wall. */
function wayOf(
  { word, items }: Statement,
  onCeiling: boolean,
): { readonly axis: Axis; readonly sign: 1 | -1 } | undefined {
  if (word.text === 'height') return onCeiling ? undefined : { axis: 'z', sign: 1 };
  const first = items[0];
  if (word.text !== 'from' || first?.kind !== 'path') return undefined;
  switch (first.words[0]?.text) {
    case 'left':
      return { axis: 'x', sign: 1 };
    case 'right':
      return { axis: 'x', sign: -1 };
    case 'back':
      return { axis: 'y', sign: 1 };
    case 'front':
      return { axis: 'y', sign: -1 };
    default:
      return undefined;
  }
}

function numberOf({ items }: Statement): NumberLiteral | undefined {
  const numbers = items.filter((item) => item.kind === 'number');
  return numbers.length === 1 && items.every(({ kind }) => kind === 'number' || kind === 'path')
    ? numbers[0]
    : undefined;
}
