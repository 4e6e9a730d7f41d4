/** Zones along a wall, against linear programmes of what is written. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longer, runs } from '../runs.ts';
import { compareConflict, compareRange, holdsClearly, linear, resolved, SIXTEENTH } from './closets.ts';
import { besideCentred, drawnOf, endsAt, from, isRest, places, to, walls } from './drawn-zones.ts';
import { apart, type Row, row } from './linear.ts';

describe('zones along a wall', () => {
  it.each([
    ['fixed, in ranges, and one that takes what is left', walls(false), 100],
    ['with equal shares and centred ones', walls(true), 120],
    ['with equal shares beside something centred', besideCentred, 80],
  ])('%s: hold or not, range, and fail as the programme says', (_, drawnAtRandom, times) => {
    const met = { held: 0, failed: 0, several: 0, severalFailed: 0 };
    fc.assert(
      fc.property(drawnAtRandom, places, ({ wall, chains }, on) => {
        const drawn = drawnOf(wall, chains, on);
        const text = drawn.textWithout(new Set());
        const { layout, conflict } = resolved(text);
        // Two that meet and both take the rest are told so: nothing says how they share it.
        const meet = chains.some(({ zones }, i) => zones.some(isRest) && chains[i + 1]?.zones.some(isRest));
        if (!meet || on.kind !== 'nest') expect([text, conflict?.rule.id === 'width-undecided']).toEqual([text, meet]);
        else expect([text, conflict?.message]).toEqual([text, expect.any(String)]);
        if (meet) return;
        const holds = holdsClearly(drawn);
        if (holds === undefined) return;
        expect([text, conflict?.message]).toEqual([text, holds ? undefined : expect.any(String)]);
        if (conflict) {
          met.failed++;
          if (chains.some(({ anchor }) => anchor === 'centred') && chains.some(({ zones }) => zones.some(isRest)))
            met.severalFailed++;
          // Two that both begin at the left end are told so, without the rest of the statements.
          if (conflict.message.includes('both begin')) return;
          compareConflict(drawn, conflict, { excessIsEach: !drawn.inSteps });
          return;
        }
        met.held++;
        // Each zone around others takes the least that it can, with those around it as they are, to a few ticks.
        const rows = [...drawn.rows];
        const levels = drawn.nest?.levels ?? [];
        let innermost: number | undefined;
        for (let i = levels.length - 1; i >= 0; i--) {
          const { width } = layout.zones.find(({ name }) => name === `n${i}`) ?? {};
          if (!width) throw new Error(text);
          const terms = apart(...endsAt(i));
          if (!drawn.inSteps) compareRange(`${text} n${i}`, width, rows, terms);
          const is = width.value / SIXTEENTH;
          const least = -linear.greatest(rows, apart(...(endsAt(i).reverse() as [string, string])));
          expect([text, i, is, least, is > least - 1e-6 && is < least + 1e-3]).toEqual([text, i, is, least, true]);
          rows.push(row('settled', terms, is, drawn.inSteps ? is + 1e-6 : is));
          innermost = is;
        }
        const origin = (layout.zones.find(({ name }) => drawn.nest && name === 'n0')?.from.value ?? 0) / SIXTEENTH;
        const whole = innermost ?? drawn.rows[0]?.least ?? 0;
        for (const zone of chains.flatMap(({ zones }) => zones)) {
          const placed = layout.zones.find(({ name }) => name === zone.name);
          if (!placed) throw new Error(text);
          if (drawn.inSteps) continue;
          compareRange(`${text} ${zone.name} width`, placed.width, rows, apart(from(zone), to(zone)));
          // Inside a zone it is told where they stand, and not where else they could.
          if (on.kind !== 'zone' && on.kind !== 'nest')
            compareRange(`${text} ${zone.name} from`, placed.from, drawn.rows, apart('start', from(zone)));
        }
        // What was settled on holds, each share to a step of the saw.
        const at = new Map(
          layout.zones.flatMap(({ name, from: begins, width }) => [
            [`${name}<`, begins.value / SIXTEENTH - origin],
            [`${name}>`, (begins.value + width.value) / SIXTEENTH - origin],
          ]),
        );
        const known = (name: string): number =>
          name === 'start' ? 0 : name === 'end' ? whole : (at.get(name) as number);
        for (const { terms, least, most, says } of drawn.rows) {
          if (terms.some(([name]) => name.startsWith('share') || !(name === 'start' || name === 'end' || at.has(name))))
            continue;
          const sum = terms.reduce((s, [name, times]) => s + times * known(name), 0);
          // A tick is more than what is lost by counting in sixteenths.
          const off = terms.length > 2 ? 1 : 1e-6;
          expect([text, says, sum >= (least ?? sum) - off && sum <= (most ?? sum) + off]).toEqual([text, says, true]);
        }
        // The room on both sides of what is centred is as great as it can be with all the rest, then the shares of each
        // chain in turn: to a step of the saw, and as many more as the steps of those before can take from it.
        const shares = chains.map(({ zones }) => zones.filter(({ width }) => width.kind === 'share'));
        const wanted: Row['terms'][] = [
          ...chains.flatMap(({ anchor, zones: [first] }) =>
            anchor === 'centred' && first ? [apart('start', from(first))] : [],
          ),
          ...shares.flatMap((own) => (own.length > 0 ? [own.flatMap((zone) => apart(from(zone), to(zone)))] : [])),
        ];
        const settledOn = [...rows];
        wanted.forEach((terms, i) => {
          const most = linear.greatest(settledOn, terms);
          const is = terms.reduce((sum, [name, times]) => sum + times * known(name), 0);
          expect([text, terms, is, Math.abs(is - most) <= 1 + 2 * i]).toEqual([text, terms, is, true]);
          settledOn.push(row('settled', terms, most - 1e-7, undefined));
        });
        if (wanted.length > 1) met.several++;
        for (const { zones } of chains) {
          const each = zones.flatMap(({ name, width }) =>
            width.kind === 'share' ? [(known(`${name}>`) - known(`${name}<`)) / width.weight] : [],
          );
          if (each.length > 0) expect([text, Math.max(...each) - Math.min(...each) <= 1]).toEqual([text, true]);
        }
      }),
      runs(times),
    );
    expect(met.held).toBeGreaterThan((times * longer) / 12);
    expect(met.failed).toBeGreaterThan((times * longer) / 10);
    if (drawnAtRandom === besideCentred) {
      expect(met.several).toBeGreaterThan((times * longer) / 12);
      expect(met.severalFailed).toBeGreaterThan((times * longer) / 10);
    }
  });
});
