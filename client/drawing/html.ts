/** The page of the drawing before anything is drawn. No word of any file stands in it, and nothing but its own script and style is let in. */

export interface Addresses {
  script: string;
  style: string;
  /** Where styles may come from. */
  cspSource: string;
  nonce: string;
}

export function pageHtml({ script, style, cspSource, nonce }: Addresses): string {
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${cspSource}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="${style}">
<title>Drawing</title>
</head>
<body>
<header>
<h1 id="title">Drawing</h1>
<p id="about"></p>
</header>
<div id="bar" role="toolbar" aria-label="Drawing">
<label for="view">View</label>
<select id="view"></select>
<button type="button" id="out" aria-label="Zoom out" title="Zoom out (-)">&#8722;</button>
<button type="button" id="fit" title="Fit the drawing into the panel (0)">Fit</button>
<button type="button" id="in" aria-label="Zoom in" title="Zoom in (+)">+</button>
<button type="button" id="save" title="Save the drawing as an SVG file">Save&#8230;</button>
<button type="button" id="print" title="Open the drawing in a viewer of its own, to be printed">Print&#8230;</button>
</div>
<p id="banner" role="alert" hidden></p>
<p id="problem" hidden></p>
<div id="sheet" role="group" tabindex="0" aria-label="Drawing" aria-describedby="keys"></div>
<p id="keys" class="unseen">Tab goes from part to part, Enter to the statement of a part, Escape back to the text. Arrow keys move the drawing, plus and minus zoom, 0 fits it into the panel.</p>
<div id="below" tabindex="0" role="region" aria-label="About the drawing">
<section id="details" aria-label="Part"></section>
<section id="findings" aria-label="Findings" hidden></section>
<section id="slack" aria-label="What is loose" hidden></section>
<section id="legend" aria-label="Numbers in the drawing" hidden></section>
</div>
<p id="status" role="status" class="unseen"></p>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>
`;
}
