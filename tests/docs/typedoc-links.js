/**
 * Lets a comment of one entry link to a public name of the other, as
 * `{@link name}` without saying which entry the name is in.
 *
 * @param {import('typedoc').Application} app
 */
export function load(app) {
  app.converter.addUnknownSymbolResolver(({ moduleSource, symbolReference }, from) => {
    const path = symbolReference?.path ?? [];
    if (moduleSource || path.length === 0) return undefined;
    const names = path.map((part) => part.path);
    const entries = from.project.children ?? [];
    const target = entries.map((entry) => entry.getChildByName(names)).find((found) => found !== undefined);
    return target && { target };
  });
}
