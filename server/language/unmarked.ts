/** For an editor that shows no Markdown: what we write in it (markdown.ts, and the bold and lists around it), as it reads. */

export function unmarked(markdown: string): string {
  const lines: string[] = [];
  let fence: string | undefined;
  for (const line of markdown.split('\n')) {
    const [, opening] = /^(`{3,})(?:closet|text)?$/.exec(line) ?? [];
    if (fence !== undefined) {
      if (line === fence) fence = undefined;
      else lines.push(line);
    } else if (opening !== undefined) fence = opening;
    else lines.push(unmarkedLine(line));
  }
  return lines.join('\n');
}

function unmarkedLine(line: string): string {
  // A span of code is as it stands; one letter behind a backslash is that letter.
  return line.replaceAll(
    /\\([!-/:-@[-`{-~])|(?<!`)(`+)(?!`)(.*?[^`])\2(?!`)|\*\*(?=\S)(.+?)\*\*|\[([^\]]*)\]\([^)]*\)/g,
    (all, escaped?: string, marks?: string, code?: string, bold?: string, link?: string) => {
      if (marks !== undefined)
        return /^ (?:`.*|.*`) $/.test(code as string) ? (code as string).slice(1, -1) : (code as string);
      if (bold !== undefined) return unmarkedLine(bold);
      return escaped ?? (link === undefined ? all : unmarkedLine(link));
    },
  );
}
