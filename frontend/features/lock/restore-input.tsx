import { useEffect } from 'preact/hooks';
import { usePlace } from '../../ui/address';
import { Banner } from '../../ui/banner';
import { Button } from '../../ui/button';
import { session } from '../../lib';
import { dropTyped, giveBack, typedBefore } from './unsaved-input';

/** Text from before a lock whose field is not on the screen: shown, so that it is not lost. */
export function TypedBack() {
  const { path } = usePlace();
  const here = session.value !== null;
  useEffect(() => (here ? giveBack(path) : undefined), [path, here]);
  if (typedBefore.value.length === 0) return null;
  return (
    <Banner tone="note" title="You were typing this when the tablet locked" live>
      <ul class="notes">
        {typedBefore.value.map((one) => (
          <li key={`${one.label}${one.nth}`}>
            {one.label}: {one.text}
          </li>
        ))}
      </ul>
      <p>It goes back into its field when you open it.</p>
      <Button onPress={() => dropTyped(path)}>Throw it away</Button>
    </Banner>
  );
}
