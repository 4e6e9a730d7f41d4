/** The drawing of the unit under a position, for a panel beside the text. */
import { type Location, RequestType } from 'vscode-languageserver';
import type { Drawing, DrawingAsked, DrawnFinding, Sheet } from '../../language/drawing/drawing.ts';
import type { DrawnPart } from '../../language/drawing/parts.ts';
import type { Snapshot, Span } from '../../language/snapshot.ts';
import { rangeOf } from '../convert.ts';
import { type AboutPosition, type Feature, offsetAt, onceAsked } from './feature.ts';

/** What is asked for beside the position; `known` is the revision of the drawing that the client has. */
export interface AboutDrawing extends AboutPosition, DrawingAsked {
  readonly known?: number;
}

type Placed<T> = Omit<T, 'span'> & { readonly location: Location | undefined };

export interface ShownDrawing extends Omit<Drawing, 'parts' | 'findings' | 'sheet' | 'slack'> {
  /** Without the picture where the client has it already. */
  readonly sheet: (Omit<Sheet, 'svg'> & { readonly revision: number; readonly svg?: string }) | undefined;
  readonly parts: readonly Placed<DrawnPart>[];
  readonly findings: readonly Placed<DrawnFinding>[];
  /** A line for each dimension that is loose. */
  readonly slack: readonly string[];
}

/**
 * The drawing; null where there is no unit at the position and none was drawn before. Asked again after every edit and
 * every move of the cursor, and when the client is told that a project has changed. Answered at once: what is drawn is
 * brought up to date for it, and nothing else.
 */
export const drawingRequest = new RequestType<AboutDrawing, ShownDrawing | null, void>('storypole/drawing');

export const drawing: Feature = {
  capabilities: {},
  add: (connection, { ask, uriOfFile }) => {
    const revisions = new WeakMap<Sheet, number>();
    let last = 0;
    const revisionOf = (sheet: Sheet): number => {
      const known = revisions.get(sheet);
      if (known !== undefined) return known;
      last += 1;
      revisions.set(sheet, last);
      return last;
    };

    connection.onRequest(
      drawingRequest,
      onceAsked(async () => {
        const { drawingAt } = await import('../../language/drawing/drawing.ts');
        const { slackText } = await import('../../sheets/drawing/slack.ts');
        return ask('now', (snapshot, params: AboutDrawing): ShownDrawing | null => {
          const drawn = drawingAt(snapshot, offsetAt(snapshot, params), params);
          if (!drawn) return null;
          const { sheet, parts, findings, slack, ...rest } = drawn;
          const placed = <T extends { readonly span: Span | undefined }>({ span, ...thing }: T): Placed<T> => ({
            ...thing,
            location: locationOf(snapshot, span),
          });
          return {
            ...rest,
            sheet: sheet && shown(sheet, params.known),
            parts: parts.map(placed),
            findings: findings.map(placed),
            slack: slack.map((one) => slackText(one, snapshot.project.settings)),
          };
        });
      }),
    );

    function shown(whole: Sheet, known: number | undefined): ShownDrawing['sheet'] {
      const revision = revisionOf(whole);
      const { svg, ...sheet } = whole;
      return { ...sheet, revision, ...(revision !== known && { svg }) };
    }

    function locationOf({ project }: Snapshot, span: Span | undefined): Location | undefined {
      const source = span && project.sources.get(span.file);
      return source && { uri: uriOfFile(span.file), range: rangeOf(source, span) };
    }
  },
};
