/** Which stretch of a drawing is seen: how much it is magnified, and what is in the middle, as parts of its width and height. */

export interface Look {
  zoom: number;
  x: number;
  y: number;
}

export interface Size {
  width: number;
  height: number;
}

/** What a view box says: left, top, width, height, in the units of the drawing. */
export type Box = readonly [left: number, top: number, width: number, height: number];

export const whole: Look = { zoom: 1, x: 0.5, y: 0.5 };
const most = 20;

/** Nothing is magnified less than the whole drawing, and what is in the middle stays within it. */
export function bounded({ zoom, x, y }: Look): Look {
  const z = Math.min(most, Math.max(1, zoom));
  const edge = 1 / (2 * z);
  const within = (at: number): number => Math.min(1 - edge, Math.max(edge, at));
  return { zoom: z, x: within(x), y: within(y) };
}

export function boxOf({ zoom, x, y }: Look, { width, height }: Size): Box {
  return [x * width - width / zoom / 2, y * height - height / zoom / 2, width / zoom, height / zoom];
}

/** Magnified so many times more, around a point that stays where it is. */
export function zoomed(look: Look, times: number, [px, py]: readonly [number, number] = [look.x, look.y]): Look {
  const { zoom } = bounded({ ...look, zoom: look.zoom * times });
  const by = look.zoom / zoom;
  return bounded({ zoom, x: px + (look.x - px) * by, y: py + (look.y - py) * by });
}

/** Moved by parts of what is seen. */
export function panned({ zoom, x, y }: Look, right: number, down: number): Look {
  return bounded({ zoom, x: x + right / zoom, y: y + down / zoom });
}

/** Moved as little as shows all of a rectangle, as far as that can be. */
export function showing(look: Look, size: Size, [left, top, width, height]: Box): Look {
  const moved = (at: number, of: number, from: number, long: number): number => {
    const half = 1 / (2 * look.zoom);
    const [low, high] = [from / of, (from + long) / of];
    if (high - low > 2 * half) return (low + high) / 2;
    return Math.max(high - half, Math.min(low + half, at));
  };
  return bounded({
    zoom: look.zoom,
    x: moved(look.x, size.width, left, width),
    y: moved(look.y, size.height, top, height),
  });
}

/** A look that was kept; anything else is that at the whole. */
export function lookFrom(value: unknown): Look {
  const { zoom, x, y } = (value ?? {}) as Partial<Record<keyof Look, unknown>>;
  const all = [zoom, x, y];
  if (!all.every((one): one is number => typeof one === 'number' && Number.isFinite(one))) return whole;
  return bounded({ zoom: all[0] as number, x: all[1] as number, y: all[2] as number });
}
