export { scopes, scopeWords, type Scope } from './scopes.ts';
export { tokenReader, type ReadToken, type TokenUse } from './service.ts';
