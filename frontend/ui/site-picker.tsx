import { useState } from 'preact/hooks';
import { ChoiceRows, More, Segments } from '.';
import { closestView, viewOf, wholeViews, type ViewId } from './pictures/site-spots';
import { Figure, SiteMark, siteStateWords, type SiteState } from './site-figure';
import { sites, siteWords } from './sites';

const states: readonly SiteState[] = ['open', 'measured', 'chosen', 'aside'];

function Key() {
  return (
    <ul class="site-key" aria-label="What the marks mean">
      {states.map((state) => (
        <li key={state}>
          <SiteMark state={state} />
          {siteStateWords[state]}
        </li>
      ))}
    </ul>
  );
}

/** A body site, by the drawing or by the full list; both do the same. */
export function SitePicker(props: {
  readonly legend: string;
  readonly value: string;
  readonly onChange: (site: string) => void;
  /** Sites with readings of this visit, and those that were ruled out. */
  readonly measured?: ReadonlySet<string> | undefined;
  readonly aside?: ReadonlySet<string> | undefined;
}) {
  const { value, measured, aside } = props;
  const [shown, setShown] = useState<ViewId>(() => closestView(value));
  const stateOf = (site: string): SiteState => {
    if (site === value) return 'chosen';
    if (aside?.has(site)) return 'aside';
    return measured?.has(site) ? 'measured' : 'open';
  };
  return (
    <section class="site-picker" aria-label={props.legend}>
      <p class="site-chosen" role="status">
        {props.legend}: <strong>{value === '' ? 'not chosen' : siteWords(value)}</strong>
      </p>
      <div class="site-columns">
        <div>
          <Segments
            legend="Person seen from"
            legendHidden
            value={shown}
            options={wholeViews}
            onChange={(id) => setShown(wholeViews.find((one) => one.value === id)?.value ?? 'front')}
          />
          <p class="figure-caption" role="status">
            {viewOf(shown).words}
          </p>
          <Figure view={shown} stateOf={stateOf} onChoose={props.onChange} onCloser={setShown} />
        </div>
        <div class="site-lists">
          <p class="field-hint">Touch a ring. A plus shows that part closer. Left and right are the client’s own.</p>
          <Key />
          <More summary="Full list of sites">
            <ChoiceRows
              legend="All sites"
              value={value}
              options={sites.map((site) => ({ value: site.id, label: site.words }))}
              onChange={(site) => {
                setShown(closestView(site));
                props.onChange(site);
              }}
            />
          </More>
        </div>
      </div>
    </section>
  );
}
