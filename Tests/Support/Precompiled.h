// What nearly every test includes, parsed once for all of them. Include what you use all the same.
#include "Support/Catch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <filesystem>
#include <functional>
#include <memory>
#include <numeric>
#include <optional>
#include <random>
#include <string>
#include <vector>
