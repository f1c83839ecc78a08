/** The chair's settings and the mounting of the control. */
export { SettingsScreen } from './settings-screen';
export { MountScreen } from './mount-screen';
