/**
 * The one style of the page: type for an arm's length, targets for a thumb, ink on paper and paper on ink. Contrasts are
 * held to WCAG 2.2 by a test, from the colours below.
 */

export const colours = {
  light: {
    paper: '#ffffff',
    ink: '#101010',
    soft: '#444a50',
    line: '#6b7278',
    link: '#00507a',
    done: '#eef1ee',
    warn: '#8a1c00',
  },
  dark: {
    paper: '#14171a',
    ink: '#f2f2f2',
    soft: '#c3c9cf',
    line: '#8c949c',
    link: '#9bd3ff',
    done: '#22282d',
    warn: '#ffb199',
  },
} as const;

function variables(theme: keyof typeof colours): string {
  return Object.entries(colours[theme])
    .map(([name, value]) => `--${name}:${value}`)
    .join(';');
}

export function pageStyle(drawings: string): string {
  return `:root{color-scheme:light dark;${variables('light')}}
@media (prefers-color-scheme:dark){:root{${variables('dark')}}}
*{box-sizing:border-box}
html{font:18px/1.45 system-ui,-apple-system,"Segoe UI",Roboto,"DejaVu Sans",sans-serif;-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:60rem;padding:0 .8rem 4rem;background:var(--paper);color:var(--ink);overflow-wrap:anywhere}
h1{font-size:1.6rem;line-height:1.2;margin:.6rem 0}
h2{font-size:1.3rem;margin:2rem 0 .4rem;padding-top:.4rem;border-top:3px solid var(--ink)}
h3{font-size:1.1rem;margin:1.4rem 0 .2rem}
h4{font-size:1rem;margin:1rem 0 .1rem}
p{margin:.4rem 0}
a{color:var(--link)}
.why{color:var(--soft);display:block}
.n{font-size:1.15rem;font-variant-numeric:tabular-nums;white-space:nowrap}
.why .n{font-size:1rem}
.row{display:flex;gap:.7rem;align-items:flex-start;min-height:44px;padding:.45rem .2rem;border-bottom:1px solid var(--line);cursor:pointer}
.row:has(input:checked){background:var(--done)}
.row input{flex:none;width:30px;height:30px;margin:0;accent-color:var(--link)}
.row .body{flex:1}
.checked .row{border-bottom:0}
.checked{border-bottom:1px solid var(--line);padding-bottom:.5rem}
input[type=text],input[type=search],textarea{font:inherit;color:inherit;background:var(--paper);border:2px solid var(--line);border-radius:4px;padding:.3rem .5rem;min-height:44px;width:100%}
input[aria-invalid=true]{border-color:var(--warn);border-style:dashed}
.reading{display:grid;grid-template-columns:1fr 1fr;gap:.6rem;margin:.5rem 0}
.wrong{grid-column:1/-1;color:var(--warn);font-weight:bold}
fieldset{border:1px solid var(--line);margin:.8rem 0;padding:.4rem .7rem}
legend{font-weight:bold;padding:0 .3rem}
button,.button{font:inherit;font-weight:bold;min-height:44px;padding:.4rem .9rem;margin:.3rem .4rem .3rem 0;border:2px solid var(--ink);border-radius:4px;background:var(--paper);color:var(--ink);cursor:pointer;display:inline-flex;align-items:center;text-decoration:none}
:focus-visible{outline:4px solid var(--link);outline-offset:2px}
h1:focus{outline:none}
.banner{border:4px solid var(--warn);color:var(--warn);padding:.6rem .8rem;font-weight:bold;margin:.8rem 0}
.cautions{border-left:6px solid var(--ink);padding:.2rem .8rem .2rem 1.8rem;margin:.8rem 0}
.cautions li{margin:.3rem 0}
.facts{color:var(--soft);margin:0}
figure{margin:1rem 0}
figcaption{font-weight:bold}
.sheet{overflow:auto;border:1px solid var(--line);max-height:85vh}
.sheet svg{display:block}
.whole .sheet svg{width:100%;height:auto}
.units{list-style:none;margin:0;padding:0}
.units a{display:flex;flex-wrap:wrap;justify-content:space-between;gap:.1rem .8rem;align-items:center;min-height:48px;padding:.35rem .2rem;border-bottom:1px solid var(--line);text-decoration:none;color:var(--ink)}
.units a b{color:var(--link);text-decoration:underline}
.units small{font-size:17px;color:var(--soft)}
.plain{list-style:none;margin:0;padding:0}
.found li{margin:.4rem 0}
textarea{min-height:9rem;font-family:ui-monospace,Menlo,Consolas,"DejaVu Sans Mono",monospace;font-size:17px}
[hidden]{display:none!important}
.jump{display:flex;flex-wrap:wrap;gap:0 1rem}
.jump a{min-height:44px;display:inline-flex;align-items:center}
@media print{
:root{${variables('light')}}
html{font-size:11pt}
body{max-width:none;padding:0}
nav,button,.button,.search,.out,.jump{display:none!important}
h2,h3,h4,figcaption{break-after:avoid}
.row,figure,fieldset,.checked{break-inside:avoid}
.row{min-height:0;padding:.15rem 0}
.row input{width:16px;height:16px;min-height:0}
input[type=text]{min-height:0;border-width:0 0 1px;border-radius:0}
.sheet{overflow:visible;border:0;max-height:none}
.sheet svg{width:100%;height:auto;max-height:15cm}
#drawings{display:flex;flex-wrap:wrap;gap:.4cm .8cm}
#drawings h2,figure{width:100%}
figure.section{width:30%}
section>p{break-after:avoid}
.checked{border-bottom:0}
::placeholder{color:transparent}
.units a{min-height:0}
}
${drawings}`;
}
