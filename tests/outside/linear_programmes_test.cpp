#include "outside/ledger.h"
