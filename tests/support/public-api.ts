import ts from 'typescript';

/** One public name of an entry and where it is declared. */
export interface PublicExport {
  readonly entry: string;
  readonly name: string;
  readonly documentation: string;
  readonly declarations: readonly ts.Declaration[];
}

/** One property a user can read or give, with its doc comment. */
export interface PublicProperty {
  /** Owner and name, for messages. */
  readonly name: string;
  readonly owner: string;
  readonly key: string;
  readonly documentation: string;
  readonly defaultValue: string | undefined;
  readonly optional: boolean;
  readonly isNumeric: boolean;
  /** Inside the type literal of a property or function, which may speak for it. */
  readonly isNested: boolean;
  readonly source: ts.SourceFile;
}

/** The public names of both entries as the compiler sees them. */
export function readPublicApi(): { readonly exports: PublicExport[]; readonly properties: PublicProperty[] } {
  const entries = ['src/index.ts', 'src/node/index.ts'].filter((entry) => ts.sys.fileExists(entry));
  const program = ts.createProgram(entries, compilerOptions());
  const checker = program.getTypeChecker();
  const exports = entries.flatMap((entry) => {
    const source = program.getSourceFile(entry)!;
    return checker.getExportsOfModule(checker.getSymbolAtLocation(source)!).map((symbol) => {
      const target = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
      return {
        entry,
        name: symbol.name,
        documentation: ts.displayPartsToString(target.getDocumentationComment(checker)),
        declarations: target.declarations ?? [],
      };
    });
  });
  const seen = new Set<ts.Node>();
  const properties = exports.flatMap(({ name, declarations }) =>
    declarations.flatMap((declaration) => propertiesOf(checker, name, declaration, seen)),
  );
  return { exports, properties };
}

function compilerOptions(): ts.CompilerOptions {
  const { config } = ts.readConfigFile('tsconfig.json', (file) => ts.sys.readFile(file)) as { config: unknown };
  return ts.parseJsonConfigFileContent(config, ts.sys, '.').options;
}

/** Properties written inside a declaration, those of nested literals and of parameters too; bodies are left out. */
function propertiesOf(checker: ts.TypeChecker, owner: string, root: ts.Node, seen: Set<ts.Node>): PublicProperty[] {
  const found: PublicProperty[] = [];
  const visit = (node: ts.Node, isNested = false): void => {
    if (ts.isBlock(node) || ts.isVariableDeclaration(node) || ts.isMethodDeclaration(node)) return;
    if ((ts.isPropertySignature(node) || ts.isPropertyDeclaration(node)) && !seen.has(node) && isOurs(node)) {
      seen.add(node);
      const key = node.name.getText();
      found.push({
        name: `${owner}.${key}`,
        owner,
        key,
        documentation: documentationOf(node),
        defaultValue: defaultValueOf(node),
        optional: node.questionToken !== undefined,
        isNumeric: holdsNumbers(checker, checker.getTypeAtLocation(node)),
        isNested,
        source: node.getSourceFile(),
      });
      isNested = true;
    }
    ts.forEachChild(node, (child) => visit(child, isNested));
  };
  visit(root, ts.isFunctionDeclaration(root));
  return found;
}

/** Neither private nor documented by the class it overrides. */
function isOurs(node: ts.PropertySignature | ts.PropertyDeclaration): boolean {
  const hidden = ts.ModifierFlags.Private | ts.ModifierFlags.Override;
  return !ts.isPrivateIdentifier(node.name) && !(ts.getCombinedModifierFlags(node) & hidden);
}

function documentationOf(node: ts.Node): string {
  const comment = ts.getJSDocCommentsAndTags(node).find(ts.isJSDoc)?.comment;
  return ts.getTextOfJSDocComment(comment) ?? '';
}

function defaultValueOf(node: ts.Node): string | undefined {
  const tag = ts.getJSDocTags(node).find(({ tagName }) => tagName.text === 'defaultValue');
  return tag && (ts.getTextOfJSDocComment(tag.comment) ?? '').trim();
}

/**
 * A number, a choice that includes one, or an array of numbers; a fixed number
 * such as a version, and a name or number, are names, not quantities.
 */
function holdsNumbers(checker: ts.TypeChecker, type: ts.Type): boolean {
  if (type.isUnion() && type.types.some((part) => part.flags & ts.TypeFlags.String)) return false;
  if (type.isUnion()) return type.types.some((part) => holdsNumbers(checker, part));
  if (type.flags & ts.TypeFlags.Number) return true;
  if (!(type.flags & ts.TypeFlags.Object) || type.symbol?.name === 'Uint8Array') return false;
  const element = checker.getIndexTypeOfType(type, ts.IndexKind.Number);
  return element !== undefined && holdsNumbers(checker, element);
}
