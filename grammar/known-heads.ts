/**
 * What the words of the language say of heads, asked once of each: to work that out takes longer than all else that is
 * done with every key while braces do not pair up. Of heads that a text no longer has nothing is kept.
 */
import { ownText } from './own-text.ts';
import type { KnowHead, KnownHead } from './structure.ts';

interface Asked {
  readonly known: KnownHead | undefined;
  /** When it was asked of last. */
  turn: number;
}

export class KnownHeads {
  private readonly know: KnowHead;
  private readonly places = new Map<string, Map<string, Asked>>();
  private turn = 0;

  constructor(know: KnowHead) {
    this.know = know;
  }

  readonly of: KnowHead = (head, place) => {
    const here = this.at(place);
    const asked = here.get(head) ?? { known: this.know(head, place), turn: -1 };
    if (asked.turn < 0) here.set(ownText(head), asked);
    asked.turn = this.turn;
    return asked.known;
  };

  private at(place: string): Map<string, Asked> {
    const here = this.places.get(place) ?? new Map<string, Asked>();
    if (here.size === 0) this.places.set(place, here);
    return here;
  }

  /** The text has been read: what was not asked of meanwhile is let go. */
  settle(): void {
    for (const here of this.places.values())
      for (const [head, { turn }] of here) if (turn !== this.turn) here.delete(head);
    this.turn++;
  }
}
