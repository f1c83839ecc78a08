/** The kit's controls: listed, compared, judged at every site, and what they ask of the body. */
export { KitScreen } from './kit-screen';
export { ControlScreen } from './control-screen';
export { NeedsScreen } from './needs-screen';
export { ControlsScreen } from './controls-screen';
export { StrainScreen } from './strain-screen';
