import { useState } from 'preact/hooks';
import { Button, ButtonLink, Pad, Stopwatch, Tally, type ButtonKind } from '../../ui';
import { Icon } from '../../ui/icon';
import { Shelf } from './shelf';

const kinds: readonly ButtonKind[] = ['main', 'plain', 'quiet'];
const ignore = (): void => undefined;

function Counting() {
  const [count, setCount] = useState(3);
  const more = () => setCount(count + 1);
  const less = () => setCount(count - 1);
  return (
    <>
      <Tally label="Touched a thing" hint="1.2 in 50 m: two" count={count} onAdd={more} onRemove={less} size="normal" />
      <Tally label="Took over" count={0} onAdd={more} onRemove={less} size="normal" />
    </>
  );
}

function Typing(props: { readonly error?: string }) {
  const [value, setValue] = useState('92');
  return (
    <Pad
      label="Reading"
      value={value}
      unit="gf"
      decimals={1}
      onChange={setValue}
      onDone={ignore}
      doneLabel="Keep, next"
      error={props.error}
    />
  );
}

/** What is touched. */
export function TouchParts() {
  return (
    <>
      <Shelf title="Buttons">
        {kinds.map((kind) => (
          <Button key={kind} kind={kind} onPress={ignore}>
            {kind}
          </Button>
        ))}
        <Button onPress={ignore}>
          <Icon name="find" />
          with an icon
        </Button>
        <Button pressed onPress={ignore}>
          pressed
        </Button>
        <Button disabled onPress={ignore}>
          disabled
        </Button>
        <Button size="big" kind="main" onPress={ignore}>
          big, 64 px
        </Button>
        <Button size="big" onPress={ignore}>
          big, plain
        </Button>
        <ButtonLink href="/parts" current>
          link, here
        </ButtonLink>
        <a href="/parts" class="link-row">
          A link in a row
        </a>
      </Shelf>
      <Shelf title="Counters">
        <Counting />
      </Shelf>
      <Shelf title="Clock">
        <Stopwatch label="Driving" elapsed={() => 252_000} running={false} onStart={ignore} onStop={ignore} />
      </Shelf>
      <Shelf title="Number pad">
        <Typing />
        <Typing error="Expected 0 to 5,000 gf, got 92,000." />
      </Shelf>
    </>
  );
}
