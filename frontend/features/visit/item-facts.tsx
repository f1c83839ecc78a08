import { Segments } from '../../ui';
import type { Ask } from '../../lib';
import type { BodyProps } from './answer-body';

function FactRow(props: BodyProps & { readonly ask: Ask }) {
  const { item, shown, ask } = props;
  const fact = shown.facts?.[ask.fact];
  const ready = item.from !== undefined ? shown.state !== 'not-applicable' : shown.state === 'answered';
  return (
    <Segments
      legend={ask.prompt}
      value={fact === undefined ? '' : fact ? 'yes' : 'no'}
      options={[
        { value: 'yes', label: 'Yes' },
        { value: 'no', label: 'No' },
      ]}
      disabled={!ready}
      onChange={(value) => void props.give({ ...shown, state: 'answered', facts: { ...shown.facts, [ask.fact]: value === 'yes' } })}
    />
  );
}

/** Questions beside the item. Left open they count as yes, the cautious side. */
export function Facts(props: BodyProps) {
  const asks = props.item.asks ?? [];
  if (asks.length === 0 || !props.open) return null;
  return (
    <div class="facts">
      {asks.map((ask) => (
        <FactRow key={ask.fact} {...props} ask={ask} />
      ))}
      <p class="field-hint">
        {props.item.from === undefined && props.shown.state !== 'answered' ? 'Answer the question first. ' : ''}Left open, it counts as yes.
      </p>
    </div>
  );
}
