import type { StartingTree } from './starting-tree';
import { altitudeShortfall } from './trees/altitude-shortfall';
import { canopyTorn } from './trees/canopy-torn';
import { finLossOrFlutter } from './trees/fin-loss-or-flutter';
import { hangFire } from './trees/hang-fire';
import { landingDamage } from './trees/landing-damage';
import { motorBreach } from './trees/motor-breach';
import { noDeployment } from './trees/no-deployment';
import { noseOrBayBroken } from './trees/nose-or-bay-broken';
import { parachuteTangledOrBurnt } from './trees/parachute-tangled-or-burnt';
import { recorderDead } from './trees/recorder-dead';
import { separationUnderBoost } from './trees/separation-under-boost';
import { tetherBroken } from './trees/tether-broken';
import { tubeZipper } from './trees/tube-zipper';
import { unstableFlight } from './trees/unstable-flight';
import { vehicleLost } from './trees/vehicle-lost';
import { wrongTimeDeployment } from './trees/wrong-time-deployment';

/** Every starting tree, in the order in which they are offered. */
export const STARTING_TREES: readonly StartingTree[] = [
	noDeployment,
	wrongTimeDeployment,
	separationUnderBoost,
	parachuteTangledOrBurnt,
	canopyTorn,
	tetherBroken,
	noseOrBayBroken,
	tubeZipper,
	finLossOrFlutter,
	unstableFlight,
	motorBreach,
	hangFire,
	altitudeShortfall,
	recorderDead,
	landingDamage,
	vehicleLost
];
