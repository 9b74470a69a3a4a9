import { z } from 'zod';
import type { KindRegistry } from '../record/kinds/registry.ts';
import type { Operation } from './operation.ts';
import { problemKinds, problemSchema } from './problems/details.ts';
import { contentReference } from './schemas/references.ts';
import { scopeWords } from './tokens/scopes.ts';

type Json = Record<string, unknown>;

/** A schema as OpenAPI 3.1 takes it: JSON Schema 2020-12, without the line that names the dialect. */
function jsonSchema(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _dialect, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any' });
  return rest;
}

/** The statuses by which an operation may refuse. */
export function refusalsOf({ schemas, precondition, conflicts, path }: Operation): readonly number[] {
  return [
    ...(schemas.body === null ? [] : [400, 413, 415]),
    401,
    403,
    ...(path.includes('{') ? [404] : []),
    ...(conflicts === true ? [409] : []),
    ...(precondition === true ? [412, 428] : []),
    422,
    429,
    500,
    503,
    507,
  ].sort((one, other) => one - other);
}

function refusal(status: number): Json {
  const kinds = Object.entries(problemKinds).filter(([, [of]]) => of === status);
  const text = kinds.map(([name, [, , when]]) => `${name}: ${when}`).join(' ');
  return {
    description: text,
    content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
  };
}

function parameters({ schemas, precondition, etag, method }: Operation): Json[] {
  const from = (schema: z.ZodObject, where: 'path' | 'query') => {
    const { properties = {}, required = [] } = jsonSchema(schema, 'input') as {
      properties?: Record<string, Json>;
      required?: string[];
    };
    return Object.entries(properties).map(([name, { description, ...of }]) => ({
      name,
      in: where,
      required: where === 'path' || required.includes(name),
      ...(description === undefined ? {} : { description }),
      schema: of,
    }));
  };
  const header = (name: string, description: string) => ({
    name,
    in: 'header',
    required: false,
    description,
    schema: { type: 'string' },
  });
  return [
    ...from(schemas.params, 'path'),
    ...from(schemas.query, 'query'),
    ...(precondition === true
      ? [
          header('If-Match', 'The tag of the newest version: what this change is based on.'),
          header('If-None-Match', '“*” where there is no version yet.'),
        ]
      : []),
    ...(etag === true && method === 'GET' ? [header('If-None-Match', 'A tag that is known already.')] : []),
  ];
}

function success({ schemas, status, etag }: Operation): Json {
  const headers = {
    ...(etag === true
      ? { ETag: { description: 'The tag of what is answered.', schema: { type: 'string' } } }
      : {}),
    ...(status === 201
      ? { Location: { description: 'Where it is.', schema: { type: 'string', format: 'uri' } } }
      : {}),
  };
  return {
    description: status === 201 ? 'It is on record.' : 'What was asked for.',
    ...(Object.keys(headers).length === 0 ? {} : { headers }),
    content: { 'application/json': { schema: jsonSchema(schemas.answer, 'output') } },
  };
}

function describe(operation: Operation): Json {
  const { id, tag, summary, description, scope, status, etag, method, schemas } = operation;
  return {
    operationId: id,
    tags: [tag],
    summary,
    ...(description === undefined ? {} : { description }),
    security: [{ token: [scope] }],
    parameters: parameters(operation),
    ...(schemas.body === null
      ? {}
      : {
          requestBody: {
            required: true,
            content: { 'application/json': { schema: jsonSchema(schemas.body, 'input') } },
          },
        }),
    responses: {
      [status]: success(operation),
      ...(etag === true && method === 'GET' ? { 304: { description: 'It is as you know it.' } } : {}),
      ...Object.fromEntries(refusalsOf(operation).map((code) => [code, refusal(code)])),
    },
  };
}

/** The description of the interface (OpenAPI 3.1), made from the schemas that judge every request and every answer. */
export function apiDocument(
  operations: readonly Operation[],
  { kinds, server }: { readonly kinds: KindRegistry; readonly server: string },
): Json {
  const paths: Record<string, Json> = {};
  for (const operation of operations) {
    (paths[operation.path] ??= {})[operation.method.toLowerCase()] = describe(operation);
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Lintelbook',
      version: '1',
      description:
        'The record of a bearing-wall replacement. Quantities are US customary, and carry their unit in the name. A mark is a record of review, never a seal.',
    },
    servers: [{ url: server }],
    tags: [...new Set(operations.map(({ tag }) => tag))].map((name) => ({ name })),
    paths,
    components: {
      securitySchemes: {
        token: {
          type: 'http',
          scheme: 'bearer',
          description: `A token of your account page. Scopes: ${Object.values(scopeWords).join('. ')}.`,
        },
      },
      schemas: {
        Problem: jsonSchema(problemSchema, 'output'),
        ...Object.fromEntries(
          kinds.all.map(({ kind, schema }) => [contentReference(kind), jsonSchema(schema, 'input')]),
        ),
      },
    },
  };
}
