// A document of the engine taken apart, to be shown inside the page.

const kStyle = /<style>([^]*?)<\/style>/g;

/** Its rules, for a room of its own in which `.body` stands for its body; and its body. */
export function takenApart(html: string): { rules: string; body: ChildNode[] } {
  const rules = Array.from(html.matchAll(kStyle), ([, rule]) => rule).join('\n');
  // Without its style: as a part of the page that would be refused (docs/http.md).
  const parsed = new DOMParser().parseFromString(html.replaceAll(kStyle, ''), 'text/html');
  return {
    rules: rules.replaceAll(/(^|[},\s])body(?=\s*\{)/g, '$1.body').replaceAll(':root', ':host'),
    body: Array.from(parsed.body.childNodes),
  };
}
