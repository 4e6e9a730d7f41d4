/** The JSON Schema of what an editor tells, as the terminal writes it. */
import { answer, list, object, oneOf, orNull, ref, type Schema, text, textOrNull, whole, yesOrNo } from './schema.ts';

const declared = {
  kind: oneOf('template', 'unit'),
  name: text(),
  detail: text('What stands behind the name: `reach-in mirrored`, `extends reach-in`.'),
  range: ref('place', 'Its name.'),
};

export const editorKinds: Readonly<Record<string, Schema>> = {
  reference: object({ range: ref('place'), declares: yesOrNo('It declares the thing, or says more of it.') }),
  hover: object({ range: ref('place'), text: text('Markdown.') }),
  refactoring: object({
    id: text(),
    title: text('What it would do.'),
    notHere: textOrNull('Why it cannot be made here.'),
  }),
  textEdit: object({ range: ref('place'), text: text('What takes its place.') }),
  symbol: object({
    word: text('The word that declares it.'),
    name: text(),
    container: text('The path of what it stands in, or the name of its file.'),
    range: ref('place', 'Its name.'),
  }),
  outlined: object({
    word: text('The word that declares it.'),
    name: text('The word itself where it has no name.'),
    detail: text('The word with what stands behind the name; empty without a name.'),
    range: ref('place', 'All of it, its block included.'),
    selection: ref('place', 'Its name, or its word.'),
    children: list(ref('outlined')),
  }),
  outlinedFile: object({ file: text(), symbols: list(ref('outlined')) }),
  link: object({
    alias: text('What the library is called here.'),
    path: text('As it is written.'),
    range: ref('place', 'The path, without its quotation marks.'),
    opens: text('The file that an editor opens: the one that declares a project, or else the first.'),
    files: list(text(), 'All files of the library.'),
  }),
  hint: object({
    kind: oneOf('width', 'height', 'cut', 'value', 'default'),
    label: text('As an editor shows it.'),
    file: text(),
    at: ref('point', 'Behind what it is shown.'),
    why: textOrNull('Where the number comes from, as Markdown; null without --why.'),
  }),
  lens: object({
    kind: oneOf('uses', 'boards', 'savings', 'stock'),
    title: text('As an editor shows it.'),
    range: ref('place', 'The name of the template or unit that it stands above.'),
    places: list(ref('place'), 'What it leads to.'),
  }),
  templateOrUnit: object(declared),
  user: object({
    ...declared,
    names: ref('place', 'Where it names the template that it is built on.'),
    through: list(text(), 'With --through: the templates in between, from the one that was asked about on.'),
  }),
  completion: object({
    kind: oneOf('word', 'literal', 'name', 'parameter', 'dimension', 'value', 'measure', 'type', 'snippet'),
    label: text('As an editor shows it.'),
    detail: textOrNull(),
    doc: textOrNull('Markdown.'),
    text: text('What is written.'),
    snippet: textOrNull('The same with places to fill in, written as the language server protocol has them.'),
    replaces: ref('place', 'What it takes the place of; empty where it only comes in between.'),
  }),
  signature: object({
    label: text('The phrase as the reference of the language writes it.'),
    doc: text('Markdown.'),
    parts: list(
      object({
        text: text(),
        start: whole(0, 'In the label.'),
        end: whole(0, 'In the label.'),
        doc: text('What may stand there; empty for a fixed word.'),
      }),
    ),
    active: orNull(whole(0), 'The index of the part that comes at the place; null where nothing more comes.'),
  }),
};

const written = {
  written: yesOrNo('false where the edits are only shown.'),
  edits: list(ref('textEdit')),
};

const answers: Readonly<Record<string, Schema>> = {
  definition: answer('definition', 'locations', 'place'),
  'type-definition': answer('type-definition', 'locations', 'place'),
  references: answer('references', 'references', 'reference'),
  hover: object({ command: { const: 'hover' }, hover: ref('hover') }),
  users: object({ command: { const: 'users' }, template: ref('templateOrUnit'), users: list(ref('user')) }),
  bases: object({
    command: { const: 'bases' },
    of: ref('templateOrUnit'),
    bases: list(ref('templateOrUnit'), 'What it is built on, the nearest first.'),
  }),
  complete: object({ command: { const: 'complete' }, completions: list(ref('completion'), 'The best first.') }),
  signature: object({ command: { const: 'signature' }, signature: ref('signature') }),
  hints: answer('hints', 'hints', 'hint'),
  lenses: answer('lenses', 'lenses', 'lens'),
  symbols: answer('symbols', 'symbols', 'symbol'),
  outline: answer('outline', 'files', 'outlinedFile'),
  links: answer('links', 'links', 'link'),
  rename: object({ command: { const: 'rename' }, from: text(), to: text(), ...written }),
  refactorings: answer('refactorings', 'refactorings', 'refactoring'),
  refactor: object({ command: { const: 'refactor' }, id: text(), title: text(), ...written }),
};

export const editorCommands: readonly string[] = Object.keys(answers);
export const editorAnswers: readonly Schema[] = Object.values(answers);
