import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

export interface Expression {
  readonly file: string;
  readonly source: string;
  readonly flags: string;
}

/** Every regular expression that our own files hold: literals, and `new RegExp` of constants of the same file. */
export function collectExpressions(folder: string): Expression[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|js)$/.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name))
    .filter((file) => !file.includes('/generated/'))
    .flatMap((file) => expressionsOf(file, readFileSync(file, 'utf8')));
}

/** @throws where a `new RegExp` is made of something that does not stand in the file */
export function expressionsOf(file: string, text: string): Expression[] {
  const parsed = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found: Expression[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isRegularExpressionLiteral(node)) {
      const end = node.text.lastIndexOf('/');
      found.push({ file, source: node.text.slice(1, end), flags: node.text.slice(end + 1) });
    }
    if (
      (ts.isNewExpression(node) || ts.isCallExpression(node)) &&
      node.expression.getText(parsed) === 'RegExp'
    ) {
      const [source, flags] = node.arguments ?? [];
      found.push({ file, source: wordsOf(source, parsed), flags: flags ? wordsOf(flags, parsed) : '' });
    }
    ts.forEachChild(node, visit);
  };
  visit(parsed);
  return found;
}

function wordsOf(node: ts.Expression | undefined, file: ts.SourceFile): string {
  if (node !== undefined) {
    if (ts.isStringLiteralLike(node)) return node.text;
    if (ts.isIdentifier(node)) {
      const constant = constantOf(node.text, file);
      if (constant !== undefined) return wordsOf(constant, file);
    }
    if (ts.isTaggedTemplateExpression(node) && node.tag.getText(file) === 'String.raw') {
      const { template } = node;
      if (ts.isNoSubstitutionTemplateLiteral(template)) return template.rawText ?? '';
      return template.templateSpans.reduce(
        (words, span) => words + wordsOf(span.expression, file) + (span.literal.rawText ?? ''),
        template.head.rawText ?? '',
      );
    }
  }
  throw new Error(`${file.fileName}: ${node?.getText(file) ?? 'nothing'} is no constant of this file`);
}

function constantOf(name: string, file: ts.SourceFile): ts.Expression | undefined {
  for (const statement of file.statements) {
    if (!ts.isVariableStatement(statement)) continue;
    for (const one of statement.declarationList.declarations) {
      if (one.name.getText(file) === name) return one.initializer;
    }
  }
  return undefined;
}
