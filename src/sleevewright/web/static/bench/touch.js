/* On every page: what is pressed is as large as this device was told to make it. */

import { applyTouch } from "./calibrate.js";

applyTouch();
