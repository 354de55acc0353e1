#include "calc/zone.h"
