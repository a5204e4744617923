/* A job's plan page: numbers open in place. */

import { openNumbers } from "../static/opening.js";

openNumbers(document);
