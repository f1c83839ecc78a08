/** One request to our own server, with every way that it can go wrong put in plain words. */
import { sha256, toBytes } from '../bytes';
import { StoreError, type StoreErrorInfo } from '../errors';
import * as v from '../schema';

interface HttpRequest {
  readonly method: string;
  readonly path: string;
  /** Sent as JSON. */
  readonly body?: unknown;
  /** Sent as it is, instead of body. */
  readonly raw?: { readonly type: string; readonly bytes: Uint8Array<ArrayBuffer> };
  /** Sent besides the usual ones. */
  readonly headers?: Readonly<Record<string, string>>;
  readonly timeoutMs?: number;
}

interface HttpAnswer {
  readonly status: number;
  readonly json: unknown;
}

/** Answers 2xx and 409; everything else throws a StoreError. */
export type Http = (request: HttpRequest) => Promise<HttpAnswer>;

const errorAnswer = v.object({
  error: v.fallback(v.string, ''),
  message: v.fallback(v.string, ''),
  field: v.optional(v.fallback(v.string, '')),
  want: v.optional(v.fallback(v.string, '')),
});

const PATIENCE_MS = 30_000;

/** `revoked` is told whenever the server says that this tablet was withdrawn. */
export function createHttp(fetcher: typeof fetch, revoked: () => void = () => undefined): Http {
  return async (request) => {
    const response = await send(fetcher, request);
    if (response.headers.get('Doorsill-Tablet') === 'revoked') revoked();
    if (response.status === 204) return { status: 204, json: null };
    const json = await readJson(response);
    if (response.ok || response.status === 409) return { status: response.status, json };
    throw refusal(response.status, json);
  };
}

async function send(fetcher: typeof fetch, request: HttpRequest): Promise<Response> {
  const headers: Record<string, string> = { Accept: 'application/json', ...request.headers };
  let body: BodyInit | undefined;
  if (request.raw !== undefined) {
    headers['Content-Type'] = request.raw.type;
    body = request.raw.bytes;
  } else if (request.body !== undefined) {
    headers['Content-Type'] = 'application/json';
    body = JSON.stringify(request.body);
  }
  const options: RequestInit = {
    method: request.method,
    headers,
    cache: 'no-store',
    credentials: 'same-origin',
    redirect: 'error',
    signal: AbortSignal.timeout(request.timeoutMs ?? PATIENCE_MS),
  };
  try {
    return await fetcher(request.path, body === undefined ? options : { ...options, body });
  } catch (cause) {
    throw new StoreError('offline', 'The server cannot be reached. What you save stays on this tablet and is sent later.', gaveUp(cause));
  }
}

/** Why there was no answer: `timeout` where this tablet stopped waiting for it. */
function gaveUp(cause: unknown): StoreErrorInfo {
  return cause instanceof Error && cause.name === 'TimeoutError' ? { cause, reason: 'timeout' } : { cause };
}

/** A network's own sign-in page answers with HTML, often with status 200. */
async function readJson(response: Response): Promise<unknown> {
  const type = response.headers.get('Content-Type') ?? '';
  if (!type.startsWith('application/json')) {
    if (!response.ok && !type.startsWith('text/html')) throw refusal(response.status, null);
    throw new StoreError('portal', 'This network answered with a page of its own instead of our server. Sign in to the network first.', {
      status: response.status,
    });
  }
  try {
    const text = await response.text();
    const sum = response.headers.get('Doorsill-Sum');
    if (sum !== null && sum !== (await sha256(toBytes(text)))) throw new Error('not as it was sent');
    return JSON.parse(text) as unknown;
  } catch (cause) {
    throw new StoreError('offline', 'The answer was cut off or changed on the way. It will be asked for again.', gaveUp(cause));
  }
}

function refusal(status: number, json: unknown): StoreError {
  const said = v.tryParse(errorAnswer, json) ?? { error: '', message: '' };
  const info = { status, reason: said.error, field: said.field ?? '', want: said.want ?? '', detail: json };
  if (status === 401) return new StoreError('sign-in', said.message || 'Sign in again. Nothing is lost.', info);
  if (status === 408 || status === 429 || status === 503 || status === 507)
    return new StoreError('server', said.message || 'The server is busy. It will be tried again.', info);
  if (status >= 500) return new StoreError('server', 'The server has a problem. What you saved stays on this tablet.', info);
  return new StoreError('refused', said.message || 'The server refused this.', info);
}
