/**
 * What somebody might write into a file, a name or a table so that whatever shows it does more than show it. One list for
 * every place where text of others is shown; nothing in it does harm where it would work.
 */

/** Where all addresses in the list lead; nothing is there. */
export const elsewhere = 'evil.test';

export interface Hostile {
  readonly kind: string;
  readonly text: string;
}

const of = (kind: string, ...texts: string[]): Hostile[] => texts.map((text) => ({ kind, text }));

/** On one line, and without quotation marks: so they can stand in a text of the language. */
export const hostileTexts: readonly Hostile[] = [
  ...of(
    'HTML',
    '<script>window.ran = 1</script>',
    "<img src=x onerror='window.ran = 1'>",
    "'><svg onload='window.ran = 1'>",
    '</title><script>window.ran = 1</script>',
    '</style><style>* { display: none }</style>',
    '</text></svg><iframe src=javascript:parent.ran=1></iframe>',
    ']]><script>window.ran = 1</script>',
    '--><!--',
    '&lt;script&gt;window.ran = 1&lt;/script&gt;',
    '<a href=command:workbench.action.quit>a</a>',
  ),
  ...of('attributes', "' onload='window.ran = 1' x='", '` onmouseover=window.ran=1 x=`', "' style='display:none"),
  ...of('CSS', '}</style>', `url(https://${elsewhere}/a.png)`, 'expression(window.ran = 1)', ';}*{display:none}'),
  ...of('SVG', "<animate onbegin='window.ran = 1' attributeName='x' dur='1s'/>", "<use href='data:image/svg+xml,x'/>"),
  ...of('addresses', 'javascript:window.ran=1', `https://${elsewhere}/a`, `www.${elsewhere}`, `a@${elsewhere}`),
  ...of(
    'Markdown',
    `![a](https://${elsewhere}/a.png)`,
    `[a](https://${elsewhere})`,
    '[a](command:workbench.action.quit)',
    '[a](file:///etc/passwd)',
    `<https://${elsewhere}>`,
    `![a][b] [b]: https://${elsewhere}/a.png`,
    `\\[a](https://${elsewhere})`,
    '``` ` ``',
    `\`[a](https://${elsewhere})`,
    '~~~',
    '| a | b |',
    '# a',
    '@somebody #1',
  ),
  ...of('icons', '$(bug) $(sync~spin)', '\\$(bug)'),
  ...of(
    'templates',
    '$' + '{process.exit(1)}',
    '{{constructor.constructor(1)()}}',
    '<%= 1 %>',
    '`$' + '{1}`',
    '$1 $0 $TM_FILENAME',
  ),
  ...of('formulas', '=HYPERLINK(1)', '+1+cmd', '-1+1', '@SUM(1)', '\t=1+1', '\uff1d1+1', '=1+1;DDE'),
  ...of(
    'commands',
    '::error file=a::b',
    '##[error]b',
    '%0A::error::b',
    '::set-output name=a::b',
    '$(touch ran)',
    '; touch ran;',
    '| touch ran',
    '--help',
  ),
  ...of(
    'terminal',
    '\u001b[2J\u001b[31mred',
    '\u001b]0;title\u0007',
    `\u001b]8;;https://${elsewhere}\u001b\\a\u001b]8;;\u001b\\`,
    '\u009b31m',
    '\b\b\b',
    '\u0000',
    '\u007f',
    '\u0007',
  ),
  ...of('directions', '\u202egnol si flehs\u202c', '\u2066a\u2069', '\u200fa', '\u2028', '\u2029', '\u061c'),
  ...of('letters', 'مدخل الشقة', '🧥👩‍🦽', 'é\u0301\u0301\u0301', '\ufeff', '\ud800', '\u{e0041}\u{e0042}', '\ufffe'),
  ...of('size', 'x'.repeat(5000), 'مدخل '.repeat(500)),
];

/** In a comment there are several lines as well. */
export const hostileComments: readonly Hostile[] = [
  ...hostileTexts,
  ...of(
    'Markdown',
    `a\n\n[b]: https://${elsewhere}\n[b]`,
    `\`\`\`\nfenced\n\`\`\`\n[a](https://${elsewhere})`,
    `~~~\nfenced`,
    `    <img src=x>`,
    `a\n===\n<div>\nb\n</div>`,
    `- [ ] a\n- ![b](https://${elsewhere}/b.png)`,
    `\`a\n[b](https://${elsewhere})\``,
    `<a href="https://${elsewhere}">b</a>`,
    `&#91;a](https://${elsewhere})`,
  ),
];

/** What no terminal and no reader should be sent: it steers, or turns the direction of writing. */
export const steering = /(?![\t\n])[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/u;

const quoted = (text: string): string => `"${text.replaceAll(/["\r\n]/g, "'")}"`;

/** A project with the text wherever one can be written, and a comment of documentation on everything. */
export function hostileProject(text: string, comment = text): string {
  const doc = comment
    .split('\n')
    .map((line) => `/// ${line}`)
    .join('\n');
  const t = quoted(text);
  return `${doc}
project ${t} { currency EUR }
${doc}
board white { depth 12in; thickness 3/4in; finish ${t}; ends take 1/16in for ${t} }
stock white { length 8ft unlimited }
rod chrome { diameter 1-1/16in; finish ${t} }
stock chrome { length 12ft unlimited }
hardware cup { is support; takes 3/8in for ${t}; screws ${t} count 2 into wall }
garment robe { hang 40in; hanger 17in; source ${t} }
accept part-not-carried at u-1.a.low because ${t}
${doc}
template t {
  ${doc.replaceAll('\n', '\n  ')}
  parameter w: length = 48in
  board white
  pole chrome
  test ${t} { w 50in }
  ${doc.replaceAll('\n', '\n  ')}
  wall back { length w; height 96in; studs every 16in from 8in }
  ${doc.replaceAll('\n', '\n  ')}
  zone a on back {
    width fill
    shelf high { at 84in; carried by cup }
    shelf low { at 42in }
    rod r { under high by 3in; for robe; from wall 9in; carried by cup }
    ${t}
    shelf ${t}
  }
}
${doc}
unit u-1 t { floor ${t}; flat ${t}; phase ${t} }
unit u-2 t { floor ${t}; w 60in }
survey u-2 { wall back { length 59-3/4in }; taken ${t} }
extra e { board white; length 20in; floor ${t} }
use ${t} as other
unit u-3 nothing ${t}
${t}
`;
}
