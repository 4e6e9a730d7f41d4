/** Ways from what is under the cursor to what it rests on, who rests on it, and what is around it. */
import type { CallHierarchyItem, SelectionRange } from 'vscode-languageserver';
import { linksOf } from '../../language/links.ts';
import { selectionsAt } from '../../language/selection.ts';
import { type TemplateOrUnit, templateOrUnitAt, usedFrom, usersOf } from '../../language/template-use.ts';
import { typeDefinitionsAt } from '../../language/type-definition.ts';
import { offsetOf, rangeOf } from '../convert.ts';
import { type AboutPosition, type Feature, offsetAt } from './feature.ts';
import { symbolKinds } from './outline.ts';

interface AboutItem extends AboutPosition {
  readonly item: CallHierarchyItem;
}

export const leading: Feature = {
  capabilities: {
    typeDefinitionProvider: true,
    documentLinkProvider: {},
    callHierarchyProvider: true,
    selectionRangeProvider: true,
  },
  add: (connection, { ask, projects, uriOfFile }) => {
    connection.onTypeDefinition(
      ask('fresh', (snapshot, params) =>
        typeDefinitionsAt(snapshot, offsetAt(snapshot, params)).map(({ source, ...range }) => ({
          uri: uriOfFile(source.id),
          range: rangeOf(source, range),
        })),
      ),
    );
    // What a `use` leads to is known when libraries have been opened.
    connection.onDocumentLinks(
      ask('fresh', (snapshot) =>
        linksOf(snapshot).map(({ file, tooltip, ...range }) => ({
          range: rangeOf(snapshot.source, range),
          target: uriOfFile(file),
          tooltip,
        })),
      ),
    );
    connection.onSelectionRanges(
      ask('now', (snapshot, { positions }) =>
        positions.map(
          (position) =>
            selectionsAt(snapshot, offsetOf(snapshot.source, position)).reduceRight<SelectionRange | undefined>(
              (parent, range) => ({ range: rangeOf(snapshot.source, range), ...(parent && { parent }) }),
              undefined,
            ) as SelectionRange,
        ),
      ),
    );

    const itemOf = ({ kind, name, detail, source, selection, ...range }: TemplateOrUnit): CallHierarchyItem => ({
      name,
      kind: symbolKinds[kind] ?? symbolKinds.template ?? 5,
      detail,
      uri: uriOfFile(source.id),
      range: rangeOf(source, range),
      selectionRange: rangeOf(source, selection),
    });
    const about = (item: CallHierarchyItem): AboutItem => ({
      item,
      textDocument: { uri: item.uri },
      position: item.selectionRange.start,
    });
    connection.languages.callHierarchy.onPrepare(
      ask('fresh', (snapshot, params) => {
        const found = templateOrUnitAt(snapshot, offsetAt(snapshot, params));
        return found ? [itemOf(found)] : null;
      }),
    );
    const incoming = ask('fresh', (snapshot, params: AboutItem) =>
      usersOf(snapshot, offsetAt(snapshot, params), projects()).map(({ of, at }) => ({
        from: itemOf(of),
        fromRanges: [rangeOf(of.source, at)],
      })),
    );
    const outgoing = ask('fresh', (snapshot, params: AboutItem) =>
      usedFrom(snapshot, offsetAt(snapshot, params)).map(({ of, at }) => ({
        to: itemOf(of),
        fromRanges: [rangeOf(snapshot.source, at)],
      })),
    );
    connection.languages.callHierarchy.onIncomingCalls(({ item }, token) => incoming(about(item), token));
    connection.languages.callHierarchy.onOutgoingCalls(({ item }, token) => outgoing(about(item), token));
  },
};
