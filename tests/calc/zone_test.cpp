#include "calculating.h"
