/** An element of a parsed document: text between tags is joined in `text`. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  readonly text: string;
}

/**
 * Reads the part of XML 1.0 that a picture may use and throws on anything
 * else: illegal characters, unquoted or repeated attributes, bare `<` or `&`,
 * unknown entities, tags that do not match. No comments, no CDATA, no doctype.
 */
export function parseStrictXml(source: string): XmlElement {
  const illegal = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/u.exec(source);
  if (illegal !== null) throw new Error(`illegal character at ${illegal.index}`);
  let at = 0;
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${source.slice(at, at + 60)}`);
  };
  const decode = (text: string): string => {
    if (text.includes('<')) fail('a bare <');
    return text.replace(/&([^;]*);?/g, (whole, name: string) => {
      const known: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };
      if (!whole.endsWith(';') || !Object.hasOwn(known, name)) fail(`entity ${whole}`);
      return known[name]!;
    });
  };
  const element = (): XmlElement => {
    const open = /^<([A-Za-z][\w-]*)((?:\s+[A-Za-z][\w:-]*="[^"]*")*)\s*(\/?)>/.exec(source.slice(at));
    if (open === null) return fail('no tag');
    at += open[0].length;
    const attributes: Record<string, string> = {};
    for (const [, key, value] of open[2]!.matchAll(/([\w:-]+)="([^"]*)"/g)) {
      if (Object.hasOwn(attributes, key!)) fail(`attribute ${key!} twice`);
      attributes[key!] = decode(value!);
    }
    const children: XmlElement[] = [];
    let text = '';
    if (open[3] === '') {
      for (;;) {
        const next = source.indexOf('<', at);
        if (next < 0) fail('no end');
        text += decode(source.slice(at, next));
        at = next;
        if (source.startsWith('</', at)) {
          const close = `</${open[1]!}>`;
          if (!source.startsWith(close, at)) fail(`no ${close}`);
          at += close.length;
          break;
        }
        children.push(element());
      }
    }
    return { name: open[1]!, attributes, children, text };
  };
  const root = element();
  if (source.slice(at).trim() !== '') fail('something after the end');
  return root;
}

/** All elements below one, itself first, in document order. */
export function allElements(root: XmlElement): XmlElement[] {
  return [root, ...root.children.flatMap(allElements)];
}

/** All elements of a class. */
export function ofClass(root: XmlElement, name: string): XmlElement[] {
  return allElements(root).filter(({ attributes }) => attributes['class'] === name);
}

/** Points of path data made of M, L, H and V with absolute coordinates. */
export function pathPoints(data: string): [number, number][] {
  return [...data.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}
