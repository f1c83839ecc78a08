import { bandLines } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import type { Item, VisitView } from '../../lib';

/** The band that the engine put a saved answer in, 1 for the best; 0 for none. */
function savedBand(item: Item, view: VisitView): number {
  const found = view.engineError === '' ? itemIn(view.result, item.id) : undefined;
  return found?.state === 'answered' ? (found.band ?? 0) : 0;
}

/** The bands of a number. What is saved is marked where the engine put it; while one types nothing is. */
export function Bands(props: { readonly item: Item; readonly view: VisitView; readonly saved: boolean }) {
  const at = props.saved ? savedBand(props.item, props.view) : 0;
  return (
    <ol class="bands">
      {bandLines(props.item).map((line, index) => (
        <li key={line} class={index + 1 === at ? 'band band-on' : 'band'}>
          {line}
          {index + 1 === at ? <strong> ← this one</strong> : null}
        </li>
      ))}
    </ol>
  );
}
