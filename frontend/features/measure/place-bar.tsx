import { useState } from 'preact/hooks';
import { Button, Segments } from '../../ui';
import { SitePicker } from '../../ui/site-picker';
import { sitesTried, siteWords } from '../../ui/sites';
import type { Visit } from '../../lib/model.gen';
import { changePlace, placeOf } from './place';

/**
 * Where, rested or tired, held up or not: the conditions that every reading
 * carries. Folded, it is one line until somebody wants to change it.
 */
export function PlaceBar(props: { readonly visit: Visit; readonly folded?: boolean | undefined }) {
  const place = placeOf(props.visit);
  const [picking, setPicking] = useState(place.site === '');
  const [folded, setFolded] = useState(props.folded === true && place.site !== '');
  if (folded) {
    return (
      <p class="place-site">
        <span>
          <strong>{siteWords(place.site)}</strong>, {place.state}, {place.supported ? 'supported' : 'not supported'}
        </span>
        <Button size="big" onPress={() => setFolded(false)}>
          Change
        </Button>
      </p>
    );
  }
  return (
    <div class="place-bar">
      {picking ? (
        <SitePicker
          legend="Site"
          value={place.site}
          {...sitesTried(props.visit)}
          onChange={(site) => {
            changePlace(props.visit, { site });
            setPicking(false);
          }}
        />
      ) : (
        <p class="place-site">
          <span>
            Site: <strong>{siteWords(place.site)}</strong>
          </span>
          <Button size="big" onPress={() => setPicking(true)}>
            Another site
          </Button>
        </p>
      )}
      <div class="place-toggles">
        <Segments
          big
          legend="The person is"
          value={place.state}
          options={[
            { value: 'rested', label: 'Rested' },
            { value: 'tired', label: 'Tired' },
          ]}
          onChange={(value) => changePlace(props.visit, { state: value === 'tired' ? 'tired' : 'rested' })}
        />
        <Segments
          big
          legend="Limb or head is"
          value={place.supported ? 'yes' : 'no'}
          options={[
            { value: 'yes', label: 'Supported' },
            { value: 'no', label: 'Not supported' },
          ]}
          onChange={(value) => changePlace(props.visit, { supported: value === 'yes' })}
        />
      </div>
    </div>
  );
}
