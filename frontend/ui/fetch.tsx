import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Banner, Button, reasonOf } from '.';
import { api } from '../lib';

/** What came of a request: still on its way, an answer, or a sentence that says why not. */
export type FetchState<T> =
  { readonly kind: 'loading' } | { readonly kind: 'here'; readonly value: T } | { readonly kind: 'failed'; readonly message: string };

/** Reads one address of the server; `again` fetches anew and keeps what is shown meanwhile. */
export function useFetch<T>(path: string): { readonly got: FetchState<T>; readonly again: () => void } {
  const [got, setGot] = useState<{ readonly path: string; readonly state: FetchState<T> }>({ path, state: { kind: 'loading' } });
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let wanted = true;
    const take = (state: FetchState<T>) => {
      if (wanted) setGot({ path, state });
    };
    api<T>('GET', path).then(
      (value) => take({ kind: 'here', value }),
      (error: unknown) => take({ kind: 'failed', message: reasonOf(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [path, turn]);
  return { got: got.path === path ? got.state : { kind: 'loading' }, again: () => setTurn((now) => now + 1) };
}

/** Shows what was fetched, or that it is on its way, or why it did not come. */
export function Fetched<T>(props: {
  readonly got: FetchState<T>;
  readonly again: () => void;
  readonly what: string;
  readonly children: (value: T) => ComponentChildren;
}) {
  const { got } = props;
  if (got.kind === 'loading') return <p role="status">Fetching {props.what}…</p>;
  if (got.kind === 'here') return <>{props.children(got.value)}</>;
  return (
    <Banner tone="caution" title="Not fetched" live>
      <p>{got.message}</p>
      <Button onPress={props.again}>Try again</Button>
    </Banner>
  );
}
