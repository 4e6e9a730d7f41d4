/**
 * Which room may import which. The table below is the rule: a room sees itself and the rooms named after it,
 * nothing else of ours. tests/rooms.test.ts runs it over the project, and over small trees that break each rule.
 */

/** @type {ReadonlyArray<{ room: string, sees: string[] }>} */
const rooms = [
  { room: 'grammar', sees: [] },
  { room: 'server/model', sees: ['grammar'] },
  { room: 'server/cutting', sees: ['server/model', 'grammar'] },
  { room: 'server/checks', sees: ['server/cutting', 'server/model', 'grammar'] },
  { room: 'server/sheets', sees: ['server/checks', 'server/cutting', 'server/model', 'grammar'] },
  { room: 'server/language', sees: ['server/sheets', 'server/checks', 'server/cutting', 'server/model', 'grammar'] },
  // Files on a disk, for whoever writes some: not for what only computes.
  { room: 'server/writing', sees: ['server/model', 'grammar'] },
  { room: 'server/protocol', sees: ['server', 'grammar'] },
  { room: 'server/cli', sees: ['server', 'grammar'] },
  { room: 'client', sees: ['server/writing'] },
];

/** Our own folders: an import of anything here is an import between rooms. */
const ours = '^(grammar|server|client|tests|examples)/';

/** A package, found in node_modules or not; `name` may be a pattern. */
const packages = (name) => `(^|/)node_modules/${name}(/|$)|^${name}(/|$)`;

export default {
  forbidden: [
    ...rooms.map(({ room, sees }) => ({
      name: `room-${room.replace('/', '-')}`,
      severity: 'error',
      comment: sees.length === 0 ? `${room} imports no other room` : `${room} imports only ${sees.join(', ')}`,
      from: { path: `^${room}/` },
      to: { path: ours, pathNot: [room, ...sees].map((seen) => `^${seen}/`) },
    })),
    {
      name: 'no-cycle',
      severity: 'error',
      comment: 'imports point one way, inside a room too',
      from: {},
      to: { circular: true },
    },
    {
      name: 'verifier-alone',
      severity: 'error',
      comment: 'the verifier shares no code with any planner, so that a mistake there is not repeated here',
      from: { path: '^server/cutting/verify' },
      to: { path: '^server/cutting/', pathNot: '^server/cutting/(verify|types|request)' },
    },
    {
      name: 'protocol-libraries',
      severity: 'error',
      comment: 'only server/protocol and client know the language server protocol',
      from: { path: ours, pathNot: ['^server/protocol/', '^client/', '^tests/'] },
      to: { path: packages('(vscode-languageserver[^/]*|vscode-languageclient|vscode-jsonrpc)') },
    },
    {
      name: 'parser-library',
      severity: 'error',
      comment: 'only grammar knows how the text is parsed',
      from: { path: ours, pathNot: ['^grammar/', '^tests/'] },
      to: { path: packages('(chevrotain|@chevrotain/[^/]+)') },
    },
    {
      name: 'found',
      severity: 'error',
      comment: 'every import leads somewhere; vscode is there inside VS Code only, the launcher runs beside a bundle',
      from: { pathNot: '^server/cli/launcher[.]cjs$' },
      to: { couldNotResolve: true, pathNot: '^vscode$' },
    },
  ],
  options: {
    // Reads the syntax as written, so that an import of a type counts as an import.
    parser: 'swc',
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(dist|coverage)/' },
    moduleSystems: ['es6', 'cjs'],
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
      extensions: ['.ts', '.cjs', '.mjs', '.js', '.json', '.d.ts'],
    },
  },
};
