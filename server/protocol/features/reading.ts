/** What the server tells of what is under the cursor, and where that is declared. */
import { RequestType } from 'vscode-languageserver';
import { type CutList, cutListAt } from '../../language/cut-list.ts';
import { definitionAt } from '../../language/definition.ts';
import { hoverAt } from '../../language/hover.ts';
import { rangeOf } from '../convert.ts';
import { documented, ofHover } from '../documented.ts';
import { type AboutPosition, type Feature, offsetAt } from './feature.ts';

/** The cut list of the unit under a position, or of all units of the template there; null elsewhere. */
export const cutListRequest = new RequestType<AboutPosition, CutList | null, void>('storypole/cutList');

export const reading: Feature = {
  capabilities: { hoverProvider: true, definitionProvider: true },
  add: (connection, { ask, uriOfFile, client }) => {
    connection.onHover(
      ask('fresh', (snapshot, params) => {
        const hover = hoverAt(snapshot, offsetAt(snapshot, params));
        return hover
          ? { contents: documented(hover.text, ofHover(client())), range: rangeOf(snapshot.source, hover) }
          : null;
      }),
    );
    connection.onDefinition(
      ask('fresh', (snapshot, params) => {
        const found = definitionAt(snapshot, offsetAt(snapshot, params));
        return found ? { uri: uriOfFile(found.source.id), range: rangeOf(found.source, found.name) } : null;
      }),
    );
    connection.onRequest(
      cutListRequest,
      ask('fresh', (snapshot, params: AboutPosition) => cutListAt(snapshot, offsetAt(snapshot, params)) ?? null),
    );
  },
};
