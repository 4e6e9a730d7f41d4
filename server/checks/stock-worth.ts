/** What offcuts are said to be worth, where a plan cannot be judged by it. */
import { type Finding, finding } from '../model/finding.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import type { StockInput } from './stock-input.ts';

export const offcutWorthNotCounted: Rule = {
  id: 'offcut-worth-not-counted',
  family: 'stock',
  title: 'What kept offcuts are worth cannot be counted',
  explanation:
    'A plan is judged by what its boards cost less what its kept offcuts are worth. That needs a price for every length that can be bought, and an offcut must be worth less than a board of its length costs: otherwise it would pay to buy boards and cut nothing from them. Until then offcuts are counted as worth nothing.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: 'worth of an offcut as long as the board < price of the board',
};

export function worthNotCounted({ notCounted = [], items, show, currency }: StockInput): Finding[] {
  const paid = (hundredths: number): string => [money(hundredths), currency].filter(Boolean).join(' ');
  return notCounted.map(({ worth, place, boards }) => {
    const { material, price, per } = worth;
    const [board] = boards;
    if (!board) {
      return finding(
        offcutWorthNotCounted,
        place,
        `Offcuts of "${material}" are said to be worth money, and not every length of it that can be bought has a price.`,
        { advice: 'Give every length its price, or leave this out.', about: material },
      );
    }
    const [whole, cost] = [Math.floor((board.length * price) / per), board.price ?? 0];
    const most = Math.ceil((cost * per) / board.length) - 1;
    const at = items.get(board.id)?.place;
    return finding(
      offcutWorthNotCounted,
      place,
      `An offcut of "${material}" as long as a board of ${showLength(board.length, show)} would be worth ${paid(whole)}, and the board costs ${paid(cost)}: it would pay to buy boards and cut nothing from them.`,
      {
        advice:
          most > 0
            ? `Say less than ${paid((cost * per) / board.length)} per ${showLength(per, show)}. Until then offcuts are counted as worth nothing.`
            : 'Leave this out. Until then offcuts are counted as worth nothing.',
        comparison: {
          what: `worth of an offcut of ${showLength(board.length, show)}, in hundredths`,
          measured: { count: whole },
          relation: 'at most',
          limit: { count: cost - 1 },
        },
        about: material,
        related: at ? [{ place: at, message: `This length costs ${paid(cost)}.` }] : [],
      },
    );
  });
}

/** Rounded up, so that "less than" stays true. */
function money(hundredths: number): string {
  return (Math.ceil(hundredths) / 100).toFixed(2);
}
