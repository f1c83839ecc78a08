import type { ComponentChildren } from 'preact';
import { Banner, Button } from '.';
import type { Fetched } from './fetched';

/** Shows what was fetched, or that it is on its way, or why it did not come. */
export function Awaited<T>(props: {
  readonly got: Fetched<T>;
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
