#include "calc/iso286.h"
