#include "shelter/position.hpp"
