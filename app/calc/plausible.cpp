#include "calc/plausible.h"
